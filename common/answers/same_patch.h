#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "common/course/state.h"
#include "common/geo/same_place.h"
#include "common/geo/spatial_index.h"
#include "common/measure/write.h"

/// Is this patch one that is known already? The software suggests, with its reason and
/// with how much the positions can tell at all; people decide (X4).
namespace swardwalk::answers {

/// A known patch that may be the one that was seen.
struct SamePatch {
  std::string patch;
  std::string heading;  ///< "Hollow 7"
  double distance_m = 0.0;
  double score = 0.0;                  ///< 0..1: how likely it is this one, given all that may be
  std::optional<double> overlapShare;  ///< of the smaller outline, where both have one
  std::string reason;                  ///< "0.8 m away, dug as well."
};

struct SameAnswer {
  std::vector<SamePatch> candidates;  ///< the likeliest first; empty: it is new
  double newScore = 1.0;              ///< that it is none of them
  int cannotTell = 0;                 ///< so many of them are about as likely as the first
  double tellsApart_m = 0.0;          ///< what lies nearer, the two positions can't tell apart
  std::string title;                  ///< "May be Hollow 7.", "A new patch."
  std::string reason;                 ///< one or two sentences
};

/// A look that asks: what is entered of a sighting so far.
struct SameQuestion {
  geo::Position position;
  std::optional<double> u_m;  ///< each axis; unknown: as a bare receiver
  double radius_m = 0.0;      ///< of a patch in which one may have stood anywhere
  turf::Kind kind = turf::Kind::bare;
  std::string green;        ///< empty: unknown
  geo::GlobeShape outline;  ///< one that was walked or drawn, else empty
};

/// Two patches that may be one.
struct SamePair {
  std::string patch, other;
  std::string heading, otherHeading;
  std::string green;  ///< of the first; empty: on none
  double distance_m = 0.0;
  double score = 0.0;
  std::string reason;  ///< one or two sentences
  std::string limits;  ///< how much the positions can tell, where the reason does not say it
  std::string change;  ///< "As one patch it has 5 sightings; it can be taken apart again."
};

/// Open patches, ready to be asked. Holds what it needs of the state. Immutable.
class PatchFinder {
 public:
  /// `open` says which patches may be seen again.
  PatchFinder(const course::CourseState& state,
              const std::function<bool(const course::Patch&)>& open, measure::UnitSystem units);

  /// A candidate lies within both accuracies (chi-square, 1 in 100), not on another green,
  /// and is of a kind that may be the same. Its odds are the density of the difference of
  /// the places, times how well the kinds go together, times how far outlines overlap;
  /// against them stands one new patch on 100 m2 (common practice, no source).
  SameAnswer find(const SameQuestion& question) const;

  /// Open patches that two crews may have made of one: near enough, and no device has seen
  /// both. The likeliest first, `mostPairs` at most.
  std::vector<SamePair> pairs() const;
  static constexpr std::size_t mostPairs = 50;

 private:
  struct Known;
  struct Candidate;
  std::vector<Candidate> candidatesFor(const SameQuestion& question, const Known* self) const;
  SameAnswer answer(const SameQuestion& question, const Known* self) const;
  void writeAnswer(const SameQuestion& question, const Known* self, SameAnswer& answer) const;
  static std::vector<double> scoresOf(const std::vector<Candidate>& candidates);
  SamePair pairOf(const Known& known, const Known& other) const;
  std::string metres(double distance_m) const;
  std::string tellsApartText(double distance_m) const;
  static bool oneSawBoth(const Known& a, const Known& b);
  /// Spares the whole question of a patch whose neighbours all were seen by its own eyes.
  bool hasUnseenNeighbour(const Known& known) const;

  std::vector<Known> known_;
  std::unique_ptr<geo::SpatialIndex> index_;
  measure::UnitSystem units_;

 public:
  ~PatchFinder();
  PatchFinder(PatchFinder&&) noexcept;
  PatchFinder& operator=(PatchFinder&&) noexcept;
};

/// The question that a sighting asks; nothing where it has no place.
std::optional<SameQuestion> questionOf(const course::Sighting& sighting);

}  // namespace swardwalk::answers
