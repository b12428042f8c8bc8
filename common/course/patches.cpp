#include "common/course/patches.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <unordered_map>

namespace swardwalk::course {

namespace {

/// Groups of identities under the smallest of each.
class Groups {
 public:
  explicit Groups(const std::set<std::string>& ids) {
    for (const std::string& id : ids) above_.emplace(id, &id);
  }

  bool knows(const std::string& id) const { return above_.contains(id); }

  const std::string& nameOf(const std::string& id) {
    const std::string* name = above_.at(id);
    while (*above_.at(*name) != *name) name = above_.at(*name);
    above_[id] = name;
    return *name;
  }

  void join(const std::string& a, const std::string& b) {
    const std::string& first = nameOf(a);
    const std::string& second = nameOf(b);
    if (first < second) {
      above_[second] = &first;
    } else {
      above_[first] = &second;
    }
  }

 private:
  std::unordered_map<std::string, const std::string*> above_;  ///< names point to themselves
};

/// Hands each piece to its patch, or lists it where nobody made the patch.
template <class Piece>
void distribute(std::vector<Piece>& pieces, std::string_view type, Groups& groups,
                std::map<std::string, Patch>& patches, std::vector<Piece> Patch::*list,
                std::vector<Unusable>& unusable) {
  for (Piece& piece : pieces) {
    if (!groups.knows(piece.patch)) {
      unusable.push_back({piece.source, std::string(type),
                          fmt::format("a patch that nobody made: \"{}\"", piece.patch)});
      continue;
    }
    const auto patch = patches.find(groups.nameOf(piece.patch));
    if (patch != patches.end()) (patch->second.*list).push_back(std::move(piece));
  }
}

template <class Piece, class Moment>
void sortBy(std::vector<Piece>& pieces, Moment moment) {
  std::sort(pieces.begin(), pieces.end(), [&](const Piece& a, const Piece& b) {
    if (moment(a) != moment(b)) return moment(a) < moment(b);
    return a.source.order() < b.source.order();
  });
}

void sortPieces(Patch& patch) {
  sortBy(patch.sightings, [](const Sighting& sighting) { return sighting.seen; });
  sortBy(patch.closed, [](const Closed& closed) { return closed.seen; });
  sortBy(patch.repairs, [](const Repair& repair) { return repair.done; });
  sortBy(patch.cameUp, [](const CameUp& cameUp) { return cameUp.seen; });
  sortBy(patch.photos, [](const Photo& photo) { return photo.seen; });
  sortBy(patch.choices, [](const Choice&) { return 0; });
  sortBy(patch.joins, [](const Join&) { return 0; });
}

/// Which green it belongs to: what a person said last, else where it lies.
void place(Patch& patch, const Ground& ground) {
  const auto newest = patch.sightings.rbegin();
  const auto end = patch.sightings.rend();
  const auto said =
      std::find_if(newest, end, [](const Sighting& sighting) { return !sighting.green.empty(); });
  if (said != end) patch.green = said->green;
  for (auto sighting = newest; sighting != end; ++sighting) {
    const auto position = placeOf(*sighting);
    if (!position) continue;
    if (!patch.green.empty()) {
      patch.zone = ground.zoneOf(patch.green, *position);
      return;
    }
    if (const auto spot = ground.at(*position)) {
      patch.green = spot->green;
      patch.zone = spot->zone;
      return;
    }
  }
}

void describe(Patch& patch) {
  patch.kind = patch.sightings.back().kind;
  patch.label = patch.id;
  const auto labelled =
      std::find_if(patch.sightings.rbegin(), patch.sightings.rend(),
                   [](const Sighting& sighting) { return !sighting.label.empty(); });
  if (labelled != patch.sightings.rend()) patch.label = labelled->label;
}

}  // namespace

std::vector<Patch> makePatches(PatchPieces pieces, const Ground& ground,
                               std::vector<Unusable>& unusable) {
  Groups groups(pieces.made);
  std::vector<Join> joins;
  for (const Join& join : pieces.joins) {
    if (groups.knows(join.patch) && groups.knows(join.sameAs)) {
      groups.join(join.patch, join.sameAs);
      joins.push_back(join);
    } else {
      const std::string& missing = groups.knows(join.patch) ? join.sameAs : join.patch;
      unusable.push_back(
          {join.source, "join", fmt::format("a patch that nobody made: \"{}\"", missing)});
    }
  }

  std::map<std::string, Patch> patches;
  for (Sighting& sighting : pieces.sightings) {
    const std::string& id = groups.nameOf(sighting.patch);
    Patch& patch = patches[id];
    patch.id = id;
    patch.sightings.push_back(std::move(sighting));
  }
  for (const std::string& id : pieces.made) {
    const auto patch = patches.find(groups.nameOf(id));
    if (patch != patches.end() && patch->first != id) patch->second.joined.push_back(id);
  }
  distribute(joins, "join", groups, patches, &Patch::joins, unusable);
  distribute(pieces.closed, "closed", groups, patches, &Patch::closed, unusable);
  distribute(pieces.repairs, "repair", groups, patches, &Patch::repairs, unusable);
  distribute(pieces.cameUp, "came_up", groups, patches, &Patch::cameUp, unusable);
  distribute(pieces.photos, "photo", groups, patches, &Patch::photos, unusable);
  distribute(pieces.choices, "choice", groups, patches, &Patch::choices, unusable);

  std::vector<Patch> list;
  list.reserve(patches.size());
  for (auto& [id, patch] : patches) {
    sortPieces(patch);
    describe(patch);
    place(patch, ground);
    list.push_back(std::move(patch));
  }
  std::sort(list.begin(), list.end(), [](const Patch& a, const Patch& b) {
    return std::tie(a.green, a.label, a.id) < std::tie(b.green, b.label, b.id);
  });
  return list;
}

}  // namespace swardwalk::course
