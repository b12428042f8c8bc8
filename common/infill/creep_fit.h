#pragma once

#include <optional>
#include <span>
#include <vector>

#include "common/infill/creep_pool.h"
#include "common/infill/gap_shape.h"
#include "common/infill/growing_time.h"
#include "common/measure/measured.h"
#include "common/turf/species.h"

namespace swardwalk::infill {

/// One size that was seen; days from any epoch.
struct SizeSeen {
  double day = 0.0;
  measure::Measured area_m2;
};

/// What is known before the first sighting: edge creep at the temperature of now as the
/// middle and the ends of the central 80 %.
struct CreepPrior {
  turf::Range creep_mm_d;
};

/// What a size is taken to be uncertain by where nobody said: a tenth of itself, and an
/// edge placed to 20 mm all round.
inline constexpr double assumedAreaShare_u = 0.10;
inline constexpr double assumedEdge_u_m = 0.02;

/// How likely a patch stands still before anything was seen of it (common practice, no
/// source).
inline constexpr double standsStillBefore = 0.1;

/// A creep with its probability, and where the edge then was on the last day.
struct CreepLevel {
  double creep_mm_d = 0.0;
  double weight = 0.0;
  double inset_mm = 0.0;
  double inset_u_mm = 0.0;
  double passing = 0.0;  ///< of the creep's logarithm, what is the weather of now
};

/// Edge creep learned from the sizes of one chapter, in mm a day at the temperature of now.
struct CreepFit {
  double lastDay = 0.0;   ///< of the last size
  double span_d = 0.0;    ///< from the first size to the last
  double inset_mm = 0.0;  ///< where the edge was on the last day, by the sizes alone
  double inset_u_mm = 0.0;
  std::optional<measure::Measured> free_mm_d;  ///< fitted without prior
  double freeLow_mm_d = 0.0;                   ///< its central 80 %
  double freeHigh_mm_d = 0.0;
  double freeSurely_mm_d = 0.0;  ///< upper end of its central 95 %
  double scatter = 1.0;          ///< of the sizes about the line, in stated uncertainties
  std::optional<measure::Measured> creep_mm_d;  ///< with prior, above 0: mean and u
  std::vector<CreepLevel> levels;               ///< ascending creep, weights add up to 1
  double passing_u = 0.0;                       ///< of all levels
  double standsStill = standsStillBefore;       ///< probability, after the sizes
  CreepTold told;                               ///< for the other patches of the green
};

/// Weighted least squares of inset over growing time, where each size's inset comes from the
/// gap's own form and its uncertainty is u(area) over the length of the edge (first order,
/// GUM 5.1.2), 1 mm at least, and grows into the past as the rate may have wandered since
/// (`drift.h`). The scatter about the line scales the uncertainties, pooled with the belief
/// in them (conjugate: scaled inverse chi-square); the intervals of the free fit are
/// Student's. Prior and sizes together: generalised least squares with the full covariance
/// of the drift, on a grid over creep above 0 and over the scatter, the place of the edge
/// integrated out. Without a prior the fit stands for itself where its central 80 % is
/// above 0.
/// Sizes nearer than half a day are taken as one, at best half as uncertain; of more than
/// `mostSizes` the latest count.
/// `sizes` by day, not empty, finite, areas 0 or more; `time` null: calendar days.
CreepFit fitCreep(const GapShape& shape, std::span<const SizeSeen> sizes,
                  const std::optional<CreepPrior>& prior, const CreepPool& pool,
                  const GrowingTime* time);

inline constexpr std::size_t mostSizes = 48;

/// The size that does not fit the others, if one does not: four sizes or more, not the last
/// (only the next look can tell), further from what the others say of its day than four
/// standard uncertainties, while all others fit. Index into `sizes`.
std::optional<std::size_t> wildSize(const GapShape& shape, std::span<const SizeSeen> sizes,
                                    const std::optional<CreepPrior>& prior,
                                    const GrowingTime* time);

}  // namespace swardwalk::infill
