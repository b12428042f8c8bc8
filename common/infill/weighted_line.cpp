#include "common/infill/weighted_line.h"

#include <cmath>

namespace swardwalk::infill {
namespace {

double weightOf(const WeightedPoint& point) { return 1.0 / (point.u * point.u); }

}  // namespace

double WeightedLine::intercept() const { return meanY - slope * meanX; }

double WeightedLine::intercept_u() const { return std::hypot(meanY_u, slope_u * meanX); }

std::optional<WeightedLine> fitLine(std::span<const WeightedPoint> points) {
  double weights = 0.0;
  double sumX = 0.0;
  double sumY = 0.0;
  for (const WeightedPoint& point : points) {
    const double weight = weightOf(point);
    weights += weight;
    sumX += weight * point.x;
    sumY += weight * point.y;
  }
  if (!(weights > 0.0)) return std::nullopt;
  WeightedLine line;
  line.meanX = sumX / weights;
  line.meanY = sumY / weights;
  double squaresX = 0.0;
  double products = 0.0;
  bool differs = false;
  for (const WeightedPoint& point : points) {
    const double x = point.x - line.meanX;
    squaresX += weightOf(point) * x * x;
    products += weightOf(point) * x * (point.y - line.meanY);
    differs = differs || point.x != points.front().x;
  }
  if (!differs || !(squaresX > 0.0)) return std::nullopt;
  line.slope = products / squaresX;
  line.slope_u = 1.0 / std::sqrt(squaresX);
  line.meanY_u = 1.0 / std::sqrt(weights);
  for (const WeightedPoint& point : points) {
    const double residual = (point.y - line.meanY) - line.slope * (point.x - line.meanX);
    line.chiSquared += weightOf(point) * residual * residual;
  }
  line.freedom = static_cast<int>(points.size()) - 2;
  return line;
}

std::optional<SlopeThroughOrigin> fitThroughOrigin(std::span<const WeightedPoint> points) {
  double squaresX = 0.0;
  double products = 0.0;
  for (const WeightedPoint& point : points) {
    squaresX += weightOf(point) * point.x * point.x;
    products += weightOf(point) * point.x * point.y;
  }
  if (!(squaresX > 0.0)) return std::nullopt;
  SlopeThroughOrigin fit;
  fit.slope = products / squaresX;
  fit.slope_u = 1.0 / std::sqrt(squaresX);
  for (const WeightedPoint& point : points) {
    const double residual = point.y - fit.slope * point.x;
    fit.chiSquared += weightOf(point) * residual * residual;
  }
  fit.freedom = static_cast<int>(points.size()) - 1;
  return fit;
}

}  // namespace swardwalk::infill
