#pragma once

#include <optional>
#include <span>

namespace swardwalk::infill {

/// A point to fit a line to; `u` is the standard uncertainty of y, above 0.
struct WeightedPoint {
  double x = 0.0;
  double y = 0.0;
  double u = 1.0;
};

/// The line y = meanY + slope (x - meanX), fitted with the weights 1/u^2. Written about
/// the weighted mean, where height and slope are independent. Uncertainties are those
/// of the u given; where the u are only relative, multiply by sqrt(chiSquared/freedom).
struct WeightedLine {
  double meanX = 0.0;
  double meanY = 0.0;
  double meanY_u = 0.0;
  double slope = 0.0;
  double slope_u = 0.0;
  double chiSquared = 0.0;  ///< weighted sum of squared residuals
  int freedom = 0;          ///< points less two

  double intercept() const;  ///< y at x = 0
  double intercept_u() const;
};

/// Weighted least squares in two passes about the mean. Nothing where fewer than two
/// different x are given. Sums run in the order of the points.
std::optional<WeightedLine> fitLine(std::span<const WeightedPoint> points);

struct SlopeThroughOrigin {
  double slope = 0.0;
  double slope_u = 0.0;
  double chiSquared = 0.0;
  int freedom = 0;  ///< points less one
};

/// Weighted least squares of y = slope x. Nothing where all x are 0.
std::optional<SlopeThroughOrigin> fitThroughOrigin(std::span<const WeightedPoint> points);

}  // namespace swardwalk::infill
