#pragma once

#include <span>
#include <vector>

#include "common/turf/species.h"

namespace swardwalk::infill {

/// A range of creep as a distribution of its logarithm: two halves of a normal curve with
/// half of the mass each, about the middle.
struct LogCreep {
  double middle = 0.0;  ///< logarithm of mm a day
  double below = 0.0;   ///< standard deviation of the lower half
  double above = 0.0;

  double mean() const;
  double variance() const;
  /// Logarithm of the density, up to a constant.
  double logDensity(double log) const;
  double quantile(double share) const;
};

/// `range` must be usable; a range without width gets a thousandth.
LogCreep logCreepOf(const turf::Range& range);

/// How much of the doubt about their creep the patches of one green share, as a share of
/// the variance of the prior: weather, feed and height of cut are the same, the places are
/// not. Common practice, no source.
inline constexpr double sharedOnGreen = 0.5;

/// From this share of the weight of a patch whose creep is known exactly another one is
/// counted among those that a forecast goes by (common practice, no source).
inline constexpr double worthCounting = 0.2;

/// How many sizes' worth of belief the stated uncertainties get against the scatter seen.
inline constexpr double beliefInStatedU = 4.0;

/// What the sizes of one patch tell the other patches of its green: its creep as one normal
/// observation of the logarithm, the prior taken out again, and how its sizes scatter.
struct CreepTold {
  double log = 0.0;        ///< of mm a day, at the temperature of now
  double precision = 0.0;  ///< 1 / variance of it; 0 tells nothing
  double drift2 = 0.0;     ///< variance of it by drift, which the whole green has in common
  double chiSquared = 0.0;
  int freedom = 0;
};

/// What the others on the green say about a patch before its own sizes are looked at.
struct CreepPool {
  int patches = 0;                  ///< that told something worth the name
  double shift = 0.0;               ///< of the prior's logarithm
  double learned2 = 0.0;            ///< variance left of what the green has in common; 0: as before
  double scatter2 = 1.0;            ///< expected square of scatter over stated uncertainty
  double belief = beliefInStatedU;  ///< as many sizes' worth
};

/// Partial pooling over a green (empirical Bayes, normal means with known spread; Efron &
/// Morris 1975). The variance of a patch's creep of now is the prior's and the drift's
/// (`held2`); the drift and the share `sharedOnGreen` of the prior are the green's, and are
/// learned from the other patches, whose sizes wandered with the same weather. The scatter
/// of all sizes on the green likewise (a chi-square of 40 degrees at most).
class GreenPool {
 public:
  /// All patches have the same prior. Sums in the order given.
  GreenPool(const LogCreep& prior, std::vector<CreepTold> told);

  /// For the patch of that index: what the others told.
  CreepPool without(std::size_t index) const;

 private:
  double weightOf(const CreepTold& told) const;
  LogCreep prior_;
  std::vector<CreepTold> told_;
  double weights_ = 0.0;
  double sum_ = 0.0;
  double drift2_ = 0.0;
  double chiSquared_ = 0.0;
  int freedom_ = 0;
};

/// A patch's creep of now before its own sizes are looked at, and how much of it is the
/// weather of now, which passes.
class CreepBefore {
 public:
  CreepBefore(const LogCreep& prior, const CreepPool& pool);

  const LogCreep& now() const { return now_; }
  /// How much of a creep's logarithm is the weather of now.
  double passing(double log) const {
    return passingShare_ * (middle_ + green_ * (log - now_.mean()));
  }
  double passing_u() const { return passing_u_; }

 private:
  LogCreep now_;
  double middle_ = 0.0;        ///< of the green's deviation from the prior
  double green_ = 0.0;         ///< the green's part of a patch's deviation from the pool
  double passingShare_ = 0.0;  ///< the weather's part of the green's deviation
  double passing_u_ = 0.0;
};

}  // namespace swardwalk::infill
