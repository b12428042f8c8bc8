#include "server/review/rounds.h"

#include <fmt/format.h>

#include <algorithm>
#include <boost/json.hpp>
#include <set>

#include "server/review/words.h"

namespace swardwalk::server::review {
namespace {

namespace json = boost::json;

/// After this many days without a walk the page says that somebody should go.
constexpr long oldWalk_d = 4;

struct LastWalk {
  std::optional<measure::Instant> when;
  std::string who;
};

void keepLater(LastWalk& walk, measure::Instant when, const course::Source& source) {
  if (walk.when && *walk.when >= when) return;
  walk.when = when;
  walk.who = source.author.empty() ? source.device : source.author;
}

/// The last round over the green, or the last sighting on it where that is later or no
/// round was written down.
LastWalk lastWalk(const course::CourseState& state, std::string_view green) {
  LastWalk walk;
  for (const course::Round& round : state.rounds) {
    if (round.green == green) keepLater(walk, round.started, round.source);
  }
  for (const course::Patch& patch : state.patches) {
    if (patch.green != green || patch.sightings.empty()) continue;
    keepLater(walk, patch.sightings.back().seen, patch.sightings.back().source);
  }
  return walk;
}

json::object newsLine(std::size_t count, std::string what, answers::Weight weight) {
  return {{"count", fmt::format("{}", count)}, {"what", what}, {"weight", text(word(weight))}};
}

}  // namespace

json::array walksJson(const CourseAnswers& all) {
  json::array walks;
  for (const auto* green : endangeredFirst(all)) {
    const LastWalk walk = lastWalk(all.state, green->green);
    json::object line{
        {"green", green->green}, {"who", walk.who}, {"when", "never"}, {"seen", ""}, {"note", ""},
        {"weight", "watch"}};
    if (walk.when) {
      const measure::Date day = all.zone.dateOf(*walk.when);
      int open = 0;
      std::vector<std::string> notSeen;
      for (const auto& patch : all.progress.patches) {
        if (patch.green != green->green || patch.look == answers::Look::closed) continue;
        ++open;
        const bool seen = patch.lastSeen && all.zone.dateOf(*patch.lastSeen) >= day;
        if (!seen) notSeen.push_back(patch.label);
      }
      const long ago = (all.progress.on - day).count();
      line["when"] = momentWords(all, *walk.when);
      line["seen"] = fmt::format("{} of {}", open - static_cast<int>(notSeen.size()), open);
      if (ago > oldWalk_d) {
        line["note"] = fmt::format("{} ago", counted(ago, "day", "days"));
      } else if (notSeen.empty()) {
        line["note"] = "all seen";
        line["weight"] = "calm";
      } else {
        line["note"] = notSeen.size() > 2 ? fmt::format("{} not seen", notSeen.size())
                                          : listed(notSeen) + " not seen";
      }
    }
    walks.push_back(std::move(line));
  }
  return walks;
}

json::array newsJson(const CourseAnswers& all) {
  const measure::Instant since = all.zone.endOf(all.progress.on - std::chrono::days(2));
  std::size_t sightings = 0;
  std::size_t repairs = 0;
  std::set<std::string> devices;
  std::vector<std::string> found;
  std::vector<std::string> closed;
  for (const course::Patch& patch : all.state.patches) {
    for (const course::Sighting& sighting : patch.sightings) {
      if (sighting.seen < since) continue;
      ++sightings;
      if (!sighting.source.device.empty()) devices.insert(sighting.source.device);
    }
    for (const course::Repair& repair : patch.repairs) repairs += repair.done >= since ? 1 : 0;
    if (!patch.sightings.empty() && patch.sightings.front().seen >= since) {
      found.push_back(patch.label);
    }
    const bool closedNow = std::any_of(patch.closed.begin(), patch.closed.end(),
                                       [&](const auto& end) { return end.seen >= since; });
    if (closedNow) closed.push_back(patch.label);
  }
  std::vector<std::string> growing;
  for (const auto& patch : all.progress.patches) {
    if (patch.verdict == infill::Verdict::growing && patch.lastSeen && *patch.lastSeen >= since) {
      growing.push_back(patch.label);
    }
  }

  json::array news;
  if (sightings > 0) {
    std::string what = sightings == 1 ? "sighting" : "sightings";
    if (devices.size() > 1) what += fmt::format(" from {} tablets", devices.size());
    news.push_back(newsLine(sightings, what, answers::Weight::calm));
  }
  const auto add = [&](const std::vector<std::string>& labels, std::string_view one,
                       std::string_view many, answers::Weight weight) {
    if (labels.empty()) return;
    news.push_back(newsLine(labels.size(),
                            fmt::format("{}: {}", labels.size() == 1 ? one : many, listed(labels)),
                            weight));
  };
  add(growing, "patch grows", "patches grow", answers::Weight::stop);
  add(found, "new patch", "new patches", answers::Weight::calm);
  add(closed, "closed", "closed", answers::Weight::good);
  if (repairs > 0) {
    news.push_back(
        newsLine(repairs, repairs == 1 ? "repair done" : "repairs done", answers::Weight::good));
  }
  return news;
}

}  // namespace swardwalk::server::review
