#include "common/answers/same_patch.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>

#include "common/answers/sentences.h"
#include "common/geo/outline.h"

namespace swardwalk::answers {

namespace {

/// A receiver in a tablet under open sky, each axis (common practice, no source).
constexpr double bareReceiver_u_m = 4.0;
/// What two tapes from marks give.
constexpr double tape_u_m = 0.1;
/// Common practice, no source: of what a crew marks, about as much is new as known.
constexpr double newPatches_m2 = 0.01;
/// A candidate less than a tenth as likely as the best is out.
constexpr double aboutAsLikely = 0.1;
constexpr double likely = 0.8;
/// Two crews' patches are named to people from this score on.
constexpr double worthAsking = 0.2;

/// How well two kinds go together as one patch seen twice: a washed hole is called bare by
/// one and dug by the next, and hungry grass dies (common practice, no source).
double together(turf::Kind a, turf::Kind b) {
  if (a == b) return 1.0;
  if (a != turf::Kind::hungry && b != turf::Kind::hungry) return 0.3;
  return a == turf::Kind::bare || b == turf::Kind::bare ? 0.2 : 0.05;
}

/// Standing anywhere on a disc errs by half its radius on each axis.
double placed_u_m(const SameQuestion& look) {
  return std::hypot(look.u_m.value_or(bareReceiver_u_m), 0.5 * look.radius_m);
}

geo::PlacedLook placed(const SameQuestion& look) { return {look.position, placed_u_m(look)}; }

double reach_m(const SameQuestion& look) {
  return std::sqrt(geo::samePlaceGate) * placed_u_m(look);
}

std::optional<double> overlapShare(const geo::GlobeShape& a, const geo::GlobeShape& b) {
  if (a.empty() || b.empty()) return std::nullopt;
  const geo::LocalPlane plane = geo::planeFor(a);
  const geo::LocalShape first = plane.toLocal(a);
  const geo::LocalShape second = plane.toLocal(b);
  const double smaller_m2 = std::min(geo::area_m2(first), geo::area_m2(second));
  if (!(smaller_m2 > 0.0)) return std::nullopt;
  return std::clamp(geo::sharedArea_m2(first, second) / smaller_m2, 0.0, 1.0);
}

/// Whoever looks with a device knows the patches that it showed: one device that saw both
/// says that they are two.
std::string eyeOf(const course::Sighting& sighting) {
  const std::string& device = sighting.source.device;
  if (!device.empty()) return device;
  return {sighting.source.origin.begin(), sighting.source.origin.end()};
}

}  // namespace

struct PatchFinder::Known {
  std::string patch;
  std::string heading;
  SameQuestion look;  ///< the best placed of its sightings
  std::set<std::string> eyes;
  std::size_t sightings = 0;
};

struct PatchFinder::Candidate {
  const Known* known = nullptr;
  geo::Apart apart;
  std::optional<double> overlapShare;
  double odds = 0.0;
};

PatchFinder::~PatchFinder() = default;
PatchFinder::PatchFinder(PatchFinder&&) noexcept = default;
PatchFinder& PatchFinder::operator=(PatchFinder&&) noexcept = default;

std::optional<SameQuestion> questionOf(const course::Sighting& sighting) {
  const auto place = course::placeOf(sighting);
  if (!place) return std::nullopt;
  SameQuestion question;
  question.position = *place;
  question.u_m = sighting.accuracy_m;
  question.kind = sighting.kind;
  question.green = sighting.green;
  question.outline = sighting.outline;
  if (sighting.outline.empty()) {
    if (const auto area_m2 = course::areaOf(sighting))
      question.radius_m = std::sqrt(std::max(area_m2->value, 0.0) / std::numbers::pi);
  }
  return question;
}

PatchFinder::PatchFinder(const course::CourseState& state,
                         const std::function<bool(const course::Patch&)>& open,
                         measure::UnitSystem units)
    : units_(units) {
  std::vector<geo::SpatialIndex::Entry> entries;
  for (const course::Patch& patch : state.patches) {
    if (!open(patch)) continue;
    std::optional<Known> best;
    std::set<std::string> eyes;
    for (const course::Sighting& sighting : patch.sightings) {
      eyes.insert(eyeOf(sighting));
      auto look = questionOf(sighting);
      if (!look) continue;
      if (best && placed_u_m(best->look) < placed_u_m(*look)) continue;
      best = Known{patch.id, headingOf(patch.label, patch.green), std::move(*look), {}, 0};
    }
    if (!best) continue;
    best->look.green = patch.green;
    best->look.kind = patch.kind;
    best->eyes = std::move(eyes);
    best->sightings = patch.sightings.size();
    entries.push_back({best->look.position, reach_m(best->look)});
    known_.push_back(std::move(*best));
  }
  index_ = std::make_unique<geo::SpatialIndex>(entries);
}

std::string PatchFinder::metres(double distance_m) const {
  const double shown = measure::inUnit(distance_m, measure::Quantity::length, units_);
  return fmt::format("{:.{}f} {}", shown, shown < 9.95 ? 1 : 0,
                     measure::unitText(measure::Quantity::length, units_));
}

std::vector<PatchFinder::Candidate> PatchFinder::candidatesFor(const SameQuestion& question,
                                                               const Known* self) const {
  std::vector<Candidate> candidates;
  for (const std::size_t i : index_->near(question.position, reach_m(question))) {
    const Known& known = known_[i];
    if (&known == self) continue;
    if (!question.green.empty() && !known.look.green.empty() && question.green != known.look.green)
      continue;
    Candidate candidate{&known, geo::apart(placed(question), placed(known.look)), {}, 0.0};
    if (!candidate.apart.mayBeSame()) continue;
    candidate.overlapShare = overlapShare(question.outline, known.look.outline);
    candidate.odds = candidate.apart.density_m2 * together(question.kind, known.look.kind) *
                     (1.0 + 9.0 * candidate.overlapShare.value_or(0.0));
    // What is ten times less likely than a new patch is not worth a question.
    constexpr double leastOdds = 0.1;
    if (candidate.odds < leastOdds * newPatches_m2) continue;
    candidates.push_back(candidate);
  }
  std::sort(candidates.begin(), candidates.end(), [](const Candidate& a, const Candidate& b) {
    return a.odds != b.odds ? a.odds > b.odds : a.known->patch < b.known->patch;
  });
  return candidates;
}

std::vector<double> PatchFinder::scoresOf(const std::vector<Candidate>& candidates) {
  std::vector<double> odds;
  odds.reserve(candidates.size());
  for (const Candidate& candidate : candidates) odds.push_back(candidate.odds);
  return geo::shares(odds, newPatches_m2);
}

std::string PatchFinder::tellsApartText(double distance_m) const {
  return fmt::format("The positions tell apart only what lies farther than {}.",
                     metres(distance_m));
}

SameAnswer PatchFinder::answer(const SameQuestion& question, const Known* self) const {
  SameAnswer answer;
  const std::vector<Candidate> candidates = candidatesFor(question, self);
  const std::vector<double> scores = scoresOf(candidates);
  double known_u_m = 0.0;
  double nearest_m = INFINITY;  // of two candidates from each other
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    const Known& known = *candidates[i].known;
    answer.newScore -= scores[i];
    std::string reason = metres(candidates[i].apart.distance_m) + " away, ";
    reason +=
        known.look.kind == question.kind
            ? fmt::format("{} as well", turf::word(question.kind))
            : fmt::format("but {}, not {}", turf::word(known.look.kind), turf::word(question.kind));
    if (const auto share = candidates[i].overlapShare)
      reason += fmt::format(", outlines overlap by {} %", wholePercent(*share));
    answer.candidates.push_back({known.patch, known.heading, candidates[i].apart.distance_m,
                                 scores[i], candidates[i].overlapShare, capital(reason) + "."});
    if (scores[i] < aboutAsLikely * scores.front()) continue;
    ++answer.cannotTell;
    known_u_m = std::max(known_u_m, placed_u_m(known.look));
    for (std::size_t j = 0; j < i; ++j) {
      nearest_m = std::min(
          nearest_m, geo::apart(placed(candidates[j].known->look), placed(known.look)).distance_m);
    }
  }
  answer.tellsApart_m = geo::tellsApart_m(
      placed_u_m(question), candidates.empty() ? 0.0 : placed_u_m(candidates.front().known->look));
  writeAnswer(question, self, answer);
  if (answer.cannotTell > 1) {
    const bool tapesTell = nearest_m > geo::tellsApart_m(tape_u_m, known_u_m);
    answer.reason += fmt::format(
        " The positions alone can't tell these {} apart: {}.", count(answer.cannotTell),
        tapesTell ? "two tapes from marks would"
                  : "they were placed too roughly; tape each of them from two marks once");
  }
  return answer;
}

void PatchFinder::writeAnswer(const SameQuestion& question, const Known* self,
                              SameAnswer& answer) const {
  if (answer.candidates.empty()) {
    answer.title = "A new patch.";
    const Known* nearest = nullptr;
    double distance_m = INFINITY;
    // As far as anybody would ask: what lies farther is no neighbour.
    constexpr double asked_m = 50.0;
    for (const std::size_t i : index_->near(question.position, asked_m)) {
      if (&known_[i] == self || known_[i].look.kind != question.kind) continue;
      const double away_m = geo::apart(placed(question), placed(known_[i].look)).distance_m;
      if (away_m >= distance_m) continue;
      distance_m = away_m;
      nearest = &known_[i];
    }
    answer.reason =
        nearest == nullptr
            ? fmt::format("No other {} patch lies near.", turf::word(question.kind))
            : fmt::format("The nearest {} one, {}, is {} away: too far to be the same.",
                          turf::word(question.kind), nearest->heading, metres(distance_m));
    return;
  }
  const SamePatch& best = answer.candidates.front();
  answer.title = best.score >= likely ? fmt::format("Probably {}.", best.heading)
                                      : fmt::format("May be {}.", best.heading);
  answer.reason = best.reason;
  if (best.score < likely && answer.cannotTell < 2) {
    answer.reason += ' ';
    answer.reason += tellsApartText(answer.tellsApart_m);
  }
}

SameAnswer PatchFinder::find(const SameQuestion& question) const {
  return answer(question, nullptr);
}

bool PatchFinder::oneSawBoth(const Known& a, const Known& b) {
  return std::any_of(a.eyes.begin(), a.eyes.end(),
                     [&b](const std::string& eye) { return b.eyes.contains(eye); });
}

bool PatchFinder::hasUnseenNeighbour(const Known& known) const {
  const auto near = index_->near(known.look.position, reach_m(known.look));
  return std::any_of(near.begin(), near.end(), [&](std::size_t i) {
    return known_[i].patch > known.patch && !oneSawBoth(known, known_[i]);
  });
}

std::vector<SamePair> PatchFinder::pairs() const {
  // Words are written for those that are kept only.
  struct Found {
    const Known* known;
    const Known* other;
    double score;
  };
  std::vector<Found> found;
  for (const Known& known : known_) {
    if (!hasUnseenNeighbour(known)) continue;
    const std::vector<Candidate> candidates = candidatesFor(known.look, &known);
    const std::vector<double> scores = scoresOf(candidates);
    for (std::size_t i = 0; i < candidates.size(); ++i) {
      const Known& other = *candidates[i].known;
      // Each pair once, from the side of the smaller identity.
      if (scores[i] < worthAsking || other.patch < known.patch || oneSawBoth(known, other))
        continue;
      found.push_back({&known, &other, scores[i]});
    }
  }
  std::sort(found.begin(), found.end(), [](const Found& a, const Found& b) {
    if (a.score != b.score) return a.score > b.score;
    return std::tie(a.known->patch, a.other->patch) < std::tie(b.known->patch, b.other->patch);
  });
  if (found.size() > mostPairs) found.resize(mostPairs);
  std::vector<SamePair> pairs;
  for (const Found& one : found) pairs.push_back(pairOf(*one.known, *one.other));
  return pairs;
}

SamePair PatchFinder::pairOf(const Known& known, const Known& other) const {
  const SameAnswer same = answer(known.look, &known);
  const auto candidate =
      std::find_if(same.candidates.begin(), same.candidates.end(),
                   [&](const SamePatch& one) { return one.patch == other.patch; });
  SamePair pair{known.patch,
                other.patch,
                known.heading,
                other.heading,
                known.look.green,
                candidate->distance_m,
                candidate->score,
                candidate->reason,
                {},
                {}};
  if (same.cannotTell > 1) {
    pair.reason = same.reason;
  } else {
    pair.limits = tellsApartText(same.tellsApart_m);
  }
  pair.change = fmt::format("As one patch it has {} sightings; it can be taken apart again.",
                            count(static_cast<int>(known.sightings + other.sightings)));
  return pair;
}

}  // namespace swardwalk::answers
