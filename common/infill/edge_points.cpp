#include "common/infill/edge_points.h"

#include <algorithm>
#include <cmath>

#include "common/infill/drift.h"

namespace swardwalk::infill {
namespace {

constexpr double sharpestEdge_mm = 1.0;
// Sizes nearer in time than this say nothing about a rate.
constexpr double oneLook_d = 0.5;

double insetU_mm(const GapShape& shape, double inset_m, const measure::Measured& area) {
  const double edge_m = shape.edge_m(inset_m);
  const double area_u =
      area.u ? *area.u : std::hypot(assumedAreaShare_u * area.value, assumedEdge_u_m * edge_m);
  // Near touching the edge shrinks to nothing and first order would say "anything".
  const double widest_mm = std::max(sharpestEdge_mm, 1000.0 * shape.closingInset_m());
  if (!(edge_m > 0.0)) return widest_mm;
  return std::clamp(1000.0 * area_u / edge_m, sharpestEdge_mm, widest_mm);
}

EdgePoint mean(std::span<const EdgePoint> points) {
  if (points.size() == 1) return points.front();
  EdgePoint sum{0.0, 0.0, 0.0, 0.0};
  double weights = 0.0;
  double best_mm = points.front().u_mm;
  for (const EdgePoint& point : points) {
    const double weight = 1.0 / (point.u_mm * point.u_mm);
    weights += weight;
    sum.growing_d += weight * point.growing_d;
    sum.calendar_d += weight * point.calendar_d;
    sum.inset_mm += weight * point.inset_mm;
    best_mm = std::min(best_mm, point.u_mm);
  }
  // Looks of one morning err together: by the same eye, at the same ragged edge.
  const double u_mm = std::max(1.0 / std::sqrt(weights), 0.5 * best_mm);
  return {sum.growing_d / weights, sum.calendar_d / weights, sum.inset_mm / weights, u_mm};
}

}  // namespace

std::vector<EdgePoint> edgePoints(const GapShape& shape, std::span<const SizeSeen> sizes,
                                  const GrowingTime* time) {
  std::vector<EdgePoint> points;
  points.reserve(sizes.size());
  const double last = sizes.back().day;
  for (const SizeSeen& size : sizes) {
    const double inset_m = shape.inset_m(size.area_m2.value);
    const double calendar_d = size.day - last;
    const double growing_d = time ? -time->between_d(size.day, last) : calendar_d;
    points.push_back(
        {growing_d, calendar_d, 1000.0 * inset_m, insetU_mm(shape, inset_m, size.area_m2)});
  }
  return points;
}

std::vector<EdgePoint> merged(std::span<const EdgePoint> points) {
  std::vector<EdgePoint> looks;
  for (std::size_t first = 0; first < points.size();) {
    std::size_t next = first + 1;
    while (next < points.size() && points[next].calendar_d - points[first].calendar_d < oneLook_d) {
      ++next;
    }
    looks.push_back(mean(points.subspan(first, next - first)));
    first = next;
  }
  if (looks.size() > mostSizes) {
    looks.erase(looks.begin(), looks.end() - static_cast<std::ptrdiff_t>(mostSizes));
  }
  return looks;
}

Eigen::MatrixXd strayed(std::span<const EdgePoint> points) {
  const auto count = static_cast<Eigen::Index>(points.size());
  Eigen::MatrixXd covariance(count, count);
  const auto paceOf = [](const EdgePoint& point) {
    return point.calendar_d < 0.0 ? point.growing_d / point.calendar_d : 1.0;
  };
  for (Eigen::Index i = 0; i < count; ++i) {
    const EdgePoint& a = points[static_cast<std::size_t>(i)];
    for (Eigen::Index j = 0; j <= i; ++j) {
      const EdgePoint& b = points[static_cast<std::size_t>(j)];
      // Rates wander by the calendar; grass covers less ground by it where it is cold.
      const double value = strayed_mm2(std::max(0.0, -a.calendar_d), std::max(0.0, -b.calendar_d)) *
                           paceOf(a) * paceOf(b);
      covariance(i, j) = value;
      covariance(j, i) = value;
    }
  }
  return covariance;
}

}  // namespace swardwalk::infill
