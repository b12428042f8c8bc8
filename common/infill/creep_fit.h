#pragma once

#include <optional>
#include <span>
#include <vector>

#include "common/infill/gap_shape.h"
#include "common/measure/measured.h"
#include "common/turf/species.h"

namespace swardwalk::infill {

/// One size that was seen; days from any epoch.
struct SizeSeen {
  double day = 0.0;
  measure::Measured area_m2;
};

/// What is known before the first sighting: edge creep as the middle and the ends of
/// the central 80 %.
struct CreepPrior {
  turf::Range creep_mm_d;
};

/// How much the rate of creep wanders: standard deviation of its logarithm after a month
/// (weather, feeding, height of cut). A random walk; common practice, no source.
inline constexpr double drift_per_month = 0.25;
inline constexpr double month_d = 30.0;

/// What a size is taken to be uncertain by where nobody said: a tenth of itself, and an
/// edge placed to 20 mm all round.
inline constexpr double assumedAreaShare_u = 0.10;
inline constexpr double assumedEdge_u_m = 0.02;

/// Edge creep learned from the sizes of one chapter.
struct CreepFit {
  double day = 0.0;       ///< weighted mean day of the sizes
  double lastDay = 0.0;   ///< of the last size
  double span_d = 0.0;    ///< from the first size to the last
  double inset_mm = 0.0;  ///< how far the edge had crept on `day`
  double inset_u_mm = 0.0;
  std::optional<measure::Measured> free_mm_d;  ///< fitted without prior
  double freeLow_mm_d = 0.0;                   ///< its central 80 %
  double freeHigh_mm_d = 0.0;
  double freeSurely_mm_d = 0.0;                 ///< upper end of its central 95 %
  std::optional<measure::Measured> creep_mm_d;  ///< with prior, above 0: mean and u
  std::vector<double> likely_mm_d;              ///< its equally likely values, ascending
};

/// Weighted least squares of inset over day, where each size's inset comes from the gap's
/// own form and its uncertainty is u(area) over the length of the edge (first order, GUM
/// 5.1.2), 1 mm at least, and grows into the past as the rate may have wandered since. The
/// scatter about the line scales the uncertainties, pooled with four sizes' worth of
/// belief in them; intervals are Student's. The prior is taken as a Bayesian observation,
/// integrated on a grid over positive creep. Without a prior the fit stands for itself
/// where its central 80 % is above 0.
/// `sizes` by day, not empty, finite, areas 0 or more.
CreepFit fitCreep(const GapShape& shape, std::span<const SizeSeen> sizes,
                  const std::optional<CreepPrior>& prior);

}  // namespace swardwalk::infill
