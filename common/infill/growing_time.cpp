#include "common/infill/growing_time.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace swardwalk::infill {

GrowingTime::GrowingTime(double firstDay, const std::vector<double>& paces, double after)
    : firstDay_(firstDay), after_(after) {
  assert(std::isfinite(firstDay) && after >= 0.0);
  sums_.reserve(paces.size() + 1);
  sums_.push_back(0.0);
  for (const double pace : paces) {
    assert(std::isfinite(pace) && pace >= 0.0);
    sums_.push_back(sums_.back() + pace);
  }
}

double GrowingTime::sumAt(double day) const {
  const double off = day - firstDay_;
  if (off <= 0.0) return off;
  const double last = static_cast<double>(sums_.size() - 1);
  if (off >= last) return sums_.back() + after_ * (off - last);
  const auto below = static_cast<std::size_t>(off);
  return sums_[below] + (off - static_cast<double>(below)) * (sums_[below + 1] - sums_[below]);
}

std::optional<double> GrowingTime::dayAfter(double from, double growing_d) const {
  if (!(growing_d > 0.0)) return from;
  const double target = sumAt(from) + growing_d;
  if (target <= 0.0) return firstDay_ + target;
  if (target > sums_.back()) {
    if (!(after_ > 0.0)) return std::nullopt;
    return firstDay_ + static_cast<double>(sums_.size() - 1) + (target - sums_.back()) / after_;
  }
  const auto reached = std::lower_bound(sums_.begin(), sums_.end(), target);
  const auto above = static_cast<std::size_t>(reached - sums_.begin());
  if (above == 0) return firstDay_;
  const double step = sums_[above] - sums_[above - 1];
  return firstDay_ + static_cast<double>(above - 1) + (target - sums_[above - 1]) / step;
}

}  // namespace swardwalk::infill
