#include "common/geo/walking_order.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace swardwalk::geo {
namespace {

/// Ways shorter by less than this are the same: rounding must not go round in circles.
constexpr double same_m = 1e-9;

double between_m(const LocalPoint& a, const LocalPoint& b) {
  return std::hypot(a.east_m - b.east_m, a.north_m - b.north_m);
}

class Walk {
 public:
  Walk(std::span<const LocalPoint> places, const std::optional<LocalPoint>& start)
      : places_(places), start_(start) {}

  double leg_m(std::size_t from, std::size_t to) const {
    return between_m(places_[from], places_[to]);
  }
  /// To the first place; nothing where the walk may begin anywhere.
  double begin_m(std::size_t to) const { return start_ ? between_m(*start_, places_[to]) : 0.0; }

  double length_m(const std::vector<std::size_t>& order) const {
    if (order.empty()) return 0.0;
    double sum_m = begin_m(order.front());
    for (std::size_t i = 1; i < order.size(); ++i) sum_m += leg_m(order[i - 1], order[i]);
    return sum_m;
  }

  std::vector<std::size_t> shortest() const;
  std::vector<std::size_t> mended() const;

 private:
  std::vector<std::size_t> nearestNext() const;
  bool turnStretches(std::vector<std::size_t>& order) const;
  bool moveStretches(std::vector<std::size_t>& order) const;
  /// The legs at a cut of the order: before place `at` of it.
  double legBefore_m(const std::vector<std::size_t>& order, std::size_t at) const {
    if (at == order.size()) return 0.0;
    return at == 0 ? begin_m(order[0]) : leg_m(order[at - 1], order[at]);
  }

  std::span<const LocalPoint> places_;
  const std::optional<LocalPoint>& start_;
};

std::vector<std::size_t> Walk::shortest() const {
  const std::size_t n = places_.size();
  const std::size_t sets = std::size_t{1} << n;
  // Shortest way through a set that ends at a place, and where it came from.
  std::vector<double> way_m(sets * n, std::numeric_limits<double>::infinity());
  std::vector<std::size_t> before(sets * n, n);
  for (std::size_t i = 0; i < n; ++i) way_m[(std::size_t{1} << i) * n + i] = begin_m(i);
  for (std::size_t set = 1; set < sets; ++set) {
    for (std::size_t last = 0; last < n; ++last) {
      const double here_m = way_m[set * n + last];
      if (!std::isfinite(here_m)) continue;
      for (std::size_t next = 0; next < n; ++next) {
        const std::size_t bit = std::size_t{1} << next;
        if ((set & bit) != 0) continue;
        const std::size_t cell = (set | bit) * n + next;
        const double there_m = here_m + leg_m(last, next);
        if (there_m < way_m[cell]) {
          way_m[cell] = there_m;
          before[cell] = last;
        }
      }
    }
  }
  std::size_t set = sets - 1;
  const auto ends = way_m.begin() + static_cast<std::ptrdiff_t>(set * n);
  std::size_t last = static_cast<std::size_t>(
      std::min_element(ends, ends + static_cast<std::ptrdiff_t>(n)) - ends);
  std::vector<std::size_t> order;
  while (set != 0) {
    order.push_back(last);
    const std::size_t came = before[set * n + last];
    set &= ~(std::size_t{1} << last);
    last = came;
  }
  std::reverse(order.begin(), order.end());
  return order;
}

std::vector<std::size_t> Walk::nearestNext() const {
  std::vector<std::size_t> left(places_.size());
  std::iota(left.begin(), left.end(), std::size_t{0});
  std::vector<std::size_t> order;
  while (!left.empty()) {
    const auto away_m = [&](std::size_t place) {
      return order.empty() ? begin_m(place) : leg_m(order.back(), place);
    };
    const auto nearest =
        std::min_element(left.begin(), left.end(),
                         [&](std::size_t a, std::size_t b) { return away_m(a) < away_m(b); });
    order.push_back(*nearest);
    left.erase(nearest);
  }
  return order;
}

bool Walk::turnStretches(std::vector<std::size_t>& order) const {
  bool shorter = false;
  for (std::size_t from = 0; from + 1 < order.size(); ++from) {
    for (std::size_t to = from + 1; to < order.size(); ++to) {
      const double now_m = legBefore_m(order, from) + legBefore_m(order, to + 1);
      const double into_m = from == 0 ? begin_m(order[to]) : leg_m(order[from - 1], order[to]);
      const double out_m = to + 1 == order.size() ? 0.0 : leg_m(order[from], order[to + 1]);
      if (into_m + out_m < now_m - same_m) {
        std::reverse(order.begin() + static_cast<std::ptrdiff_t>(from),
                     order.begin() + static_cast<std::ptrdiff_t>(to) + 1);
        shorter = true;
      }
    }
  }
  return shorter;
}

bool Walk::moveStretches(std::vector<std::size_t>& order) const {
  bool shorter = false;
  constexpr std::size_t longest = 3;
  for (std::size_t length = 1; length <= longest; ++length) {
    for (std::size_t from = 0; from + length <= order.size(); ++from) {
      std::vector<std::size_t> rest = order;
      const auto begin = rest.begin() + static_cast<std::ptrdiff_t>(from);
      const std::vector<std::size_t> stretch(begin, begin + static_cast<std::ptrdiff_t>(length));
      rest.erase(begin, begin + static_cast<std::ptrdiff_t>(length));
      const double gained_m =
          length_m(order) - length_m(rest) - (length_m(stretch) - begin_m(stretch.front()));
      for (std::size_t to = 0; to <= rest.size(); ++to) {
        if (to == from) continue;
        const double into_m =
            to == 0 ? begin_m(stretch.front()) : leg_m(rest[to - 1], stretch.front());
        const double out_m = to == rest.size() ? 0.0 : leg_m(stretch.back(), rest[to]);
        if (into_m + out_m - legBefore_m(rest, to) < gained_m - same_m) {
          rest.insert(rest.begin() + static_cast<std::ptrdiff_t>(to), stretch.begin(),
                      stretch.end());
          order = std::move(rest);
          shorter = true;
          break;
        }
      }
    }
  }
  return shorter;
}

std::vector<std::size_t> Walk::mended() const {
  std::vector<std::size_t> order = nearestNext();
  while (turnStretches(order) || moveStretches(order)) {
  }
  return order;
}

}  // namespace

WalkingOrder walkingOrder(std::span<const LocalPoint> places,
                          const std::optional<LocalPoint>& start) {
  if (places.empty()) return {};
  const Walk walk(places, start);
  WalkingOrder out;
  out.order = places.size() <= exactPlaces ? walk.shortest() : walk.mended();
  out.length_m = walk.length_m(out.order);
  return out;
}

}  // namespace swardwalk::geo
