#include "mobile/plan/label_places.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <unordered_map>

namespace swardwalk::mobile {

namespace {

/// Boxes by the squares of a grid that they lie on, so that only neighbours are compared.
class Taken {
 public:
  void add(const QRectF& box, std::size_t owner) {
    eachSquare(box, [&](std::int64_t square) {
      squares_[square].push_back({box, owner});
      return false;
    });
  }
  bool touches(const QRectF& box, std::size_t owner) const {
    return eachSquare(box, [&](std::int64_t square) {
      const auto found = squares_.find(square);
      return found != squares_.end() && std::ranges::any_of(found->second, [&](const Entry& entry) {
               return entry.owner != owner && entry.box.intersects(box);
             });
    });
  }

 private:
  struct Entry {
    QRectF box;
    std::size_t owner;
  };

  static bool eachSquare(const QRectF& box, const auto& stopAt) {
    constexpr double side_px = 64.0;
    const auto square = [](double at_px) {
      return static_cast<std::int64_t>(std::floor(std::clamp(at_px, -1e6, 1e6) / side_px));
    };
    for (std::int64_t x = square(box.left()); x <= square(box.right()); ++x) {
      for (std::int64_t y = square(box.top()); y <= square(box.bottom()); ++y) {
        if (stopAt(x * 1'000'000 + y)) return true;
      }
    }
    return false;
  }

  std::unordered_map<std::int64_t, std::vector<Entry>> squares_;
};

std::array<QRectF, 4> placesOf(const Labelled& one, double gap_px) {
  const double away_px = one.reach_px + gap_px;
  const auto boxAt = [&](double left, double top) {
    return QRectF(one.centre + QPointF(left, top), one.label);
  };
  const double middle = -one.label.width() / 2;
  const double level = -one.label.height() / 2;
  return {boxAt(away_px, level), boxAt(-away_px - one.label.width(), level),
          boxAt(middle, one.reach_px + 2), boxAt(middle, -one.reach_px - 2 - one.label.height())};
}

}  // namespace

std::vector<QRectF> labelPlaces(const std::vector<Labelled>& labelled, QRectF within,
                                double gap_px) {
  Taken taken;
  for (std::size_t i = 0; i < labelled.size(); ++i) {
    const double reach_px = labelled[i].reach_px;
    const QPointF corner(reach_px, reach_px);
    taken.add({labelled[i].centre - corner, labelled[i].centre + corner}, i);
  }
  std::vector<QRectF> boxes;
  boxes.reserve(labelled.size());
  for (std::size_t i = 0; i < labelled.size(); ++i) {
    const auto places = placesOf(labelled[i], gap_px);
    const auto free = std::ranges::find_if(places, [&](const QRectF& place) {
      return within.contains(place) && !taken.touches(place, i);
    });
    boxes.push_back(free == places.end() ? places.front() : *free);
    taken.add(boxes.back(), i);
  }
  return boxes;
}

}  // namespace swardwalk::mobile
