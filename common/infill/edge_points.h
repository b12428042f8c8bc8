#pragma once

#include <Eigen/Dense>
#include <span>
#include <vector>

#include "common/infill/creep_fit.h"

namespace swardwalk::infill {

/// Sizes as places of the edge, the last one at time 0. Inner matter of the fit.
struct EdgePoint {
  double growing_d = 0.0;   ///< 0 or less
  double calendar_d = 0.0;  ///< 0 or less
  double inset_mm = 0.0;
  double u_mm = 1.0;
};

std::vector<EdgePoint> edgePoints(const GapShape& shape, std::span<const SizeSeen> sizes,
                                  const GrowingTime* time);

/// Sizes nearer than half a day become one; the latest `mostSizes` remain.
std::vector<EdgePoint> merged(std::span<const EdgePoint> points);

/// How far edges stray from a steady rate of 1 mm a day, back from the last point, mm².
Eigen::MatrixXd strayed(std::span<const EdgePoint> points);

}  // namespace swardwalk::infill
