#include "common/geo/spatial_index.h"

#include <algorithm>
#include <boost/geometry/geometries/box.hpp>
#include <boost/geometry/geometries/point.hpp>
#include <boost/geometry/index/rtree.hpp>
#include <boost/geometry/strategies/relate/cartesian.hpp>
#include <cmath>
#include <iterator>
#include <numbers>

namespace swardwalk::geo {

namespace index = boost::geometry::index;

namespace {

using Corner = boost::geometry::model::point<double, 3, boost::geometry::cs::cartesian>;
using Box = boost::geometry::model::box<Corner>;
using Item = std::pair<Box, std::size_t>;

/// A straight line through the earth is shorter than the way over it, so that a box of
/// `reach_m` holds all that is so near.
Box boxAround(Position position, double reach_m) {
  // WGS84: major axis and squared eccentricity (NIMA TR8350.2).
  constexpr double major_m = 6'378'137.0;
  constexpr double eccentricity2 = 6.69437999014e-3;
  const double latitude = position.latitude_deg * std::numbers::pi / 180.0;
  const double longitude = position.longitude_deg * std::numbers::pi / 180.0;
  const double sine = std::sin(latitude);
  const double prime_m = major_m / std::sqrt(1.0 - eccentricity2 * sine * sine);
  const double x = prime_m * std::cos(latitude) * std::cos(longitude);
  const double y = prime_m * std::cos(latitude) * std::sin(longitude);
  const double z = prime_m * (1.0 - eccentricity2) * sine;
  return {Corner(x - reach_m, y - reach_m, z - reach_m),
          Corner(x + reach_m, y + reach_m, z + reach_m)};
}

std::vector<Item> itemsOf(std::span<const SpatialIndex::Entry> entries) {
  std::vector<Item> items;
  items.reserve(entries.size());
  for (const SpatialIndex::Entry& entry : entries)
    items.emplace_back(boxAround(entry.position, entry.reach_m), items.size());
  return items;
}

}  // namespace

struct SpatialIndex::Tree {
  explicit Tree(std::span<const Entry> entries) : items(itemsOf(entries)) {}
  index::rtree<Item, index::quadratic<16>> items;
};

SpatialIndex::SpatialIndex(std::span<const Entry> entries)
    : tree_(std::make_unique<Tree>(entries)) {}
SpatialIndex::~SpatialIndex() = default;
SpatialIndex::SpatialIndex(SpatialIndex&&) noexcept = default;
SpatialIndex& SpatialIndex::operator=(SpatialIndex&&) noexcept = default;

std::vector<std::size_t> SpatialIndex::near(Position position, double reach_m) const {
  std::vector<Item> found;
  tree_->items.query(index::intersects(boxAround(position, reach_m)), std::back_inserter(found));
  std::vector<std::size_t> indices;
  indices.reserve(found.size());
  for (const Item& item : found) indices.push_back(item.second);
  std::sort(indices.begin(), indices.end());
  return indices;
}

}  // namespace swardwalk::geo
