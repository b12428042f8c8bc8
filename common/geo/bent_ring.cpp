#include "common/geo/bent_ring.h"

#include <utility>

#include "common/geo/compass.h"

namespace swardwalk::geo {
namespace {

// The four-point rule (-1, 9, 9, -1)/16 gives the point on the bend; a third farther
// out, the two chords enclose the area of the bend itself.
constexpr double inner = 7.0 / 12.0;
constexpr double outer = -1.0 / 12.0;

}  // namespace

BentRing::BentRing(const std::vector<Step>& steps) : fixes_(steps.size()) {
  const std::size_t size = steps.size();
  for (std::size_t i = 0; i < size; ++i) {
    const std::size_t next = (i + 1) % size;
    points_.push_back(steps[i].point);
    sources_.push_back({i, i, i, i, false});
    const bool closing = next == 0;
    if (closing || size < 4 || distance_m(steps[i].point, steps[next].point) > longestBend_m) {
      continue;
    }
    const std::size_t before = (i + size - 1) % size;
    const std::size_t after = (next + 1) % size;
    // Without even steps about it a step is taken as straight.
    if (distance_m(steps[before].point, steps[i].point) > longestBend_m ||
        distance_m(steps[next].point, steps[after].point) > longestBend_m) {
      continue;
    }
    const auto bent = [&](double LocalPoint::*axis) {
      return inner * (steps[i].point.*axis + steps[next].point.*axis) +
             outer * (steps[before].point.*axis + steps[after].point.*axis);
    };
    points_.push_back({bent(&LocalPoint::east_m), bent(&LocalPoint::north_m)});
    sources_.push_back({before, i, next, after, true});
  }
}

void BentRing::keep(const std::vector<std::size_t>& kept) {
  LocalRing points;
  std::vector<Source> sources;
  for (const std::size_t i : kept) {
    points.push_back(points_[i]);
    sources.push_back(sources_[i]);
  }
  points_ = std::move(points);
  sources_ = std::move(sources);
}

std::vector<LocalPoint> BentRing::byFix(const std::vector<LocalPoint>& byPoint) const {
  std::vector<LocalPoint> gradient(fixes_);
  const auto add = [&](std::size_t fix, double weight, const LocalPoint& part) {
    gradient[fix].east_m += weight * part.east_m;
    gradient[fix].north_m += weight * part.north_m;
  };
  for (std::size_t i = 0; i < points_.size(); ++i) {
    const Source& source = sources_[i];
    if (!source.bent) {
      add(source.from, 1.0, byPoint[i]);
      continue;
    }
    add(source.before, outer, byPoint[i]);
    add(source.from, inner, byPoint[i]);
    add(source.to, inner, byPoint[i]);
    add(source.after, outer, byPoint[i]);
  }
  return gradient;
}

}  // namespace swardwalk::geo
