#include "sample-course/ground.h"

#include <boost/json.hpp>
#include <cmath>
#include <numbers>

namespace swardwalk::sample {
namespace json = boost::json;

const std::vector<TrueGreen>& greens() {
  static const std::vector<TrueGreen> all = {
      {"Hollow", 0.0, 0.0, 12.6, 0.86, 0.10, 0.4, "creeping bentgrass", "a"},
      {"Long", 210.0, 60.0, 17.2, 0.68, 0.05, 1.1, "creeping bentgrass", "b"},
      {"Mill", 130.0, -150.0, 11.4, 0.92, 0.07, 2.0, "creeping bentgrass", "c"},
      {"North", -60.0, 240.0, 13.1, 0.90, 0.09, 2.9, "creeping bentgrass", "a"},
  };
  return all;
}

geo::LocalPlane coursePlane() { return geo::LocalPlane({55.1003, 2.4007}); }

namespace {

double radiusAt(const TrueGreen& green, double angle) {
  return green.radius_m * (1.0 + green.lobe * std::cos(2.0 * angle + green.turn) +
                           0.6 * green.lobe * std::cos(3.0 * angle - green.turn));
}

json::array positionOf(const geo::Position& position) {
  // Nine decimals are a tenth of a millimetre.
  const auto rounded = [](double degrees) { return std::round(degrees * 1e9) / 1e9; };
  return {rounded(position.longitude_deg), rounded(position.latitude_deg)};
}

json::array ringOf(const geo::LocalRing& ring, bool clockwise) {
  json::array points;
  const auto plane = coursePlane();
  for (const auto& point : ring) points.push_back(positionOf(plane.toGlobe(point)));
  if (clockwise) std::reverse(points.begin(), points.end());
  points.push_back(points.front());
  return points;
}

json::object feature(json::value geometry, json::object properties) {
  return {{"type", "Feature"},
          {"geometry", std::move(geometry)},
          {"properties", std::move(properties)}};
}

json::object polygon(const geo::LocalRing& outer, const geo::LocalRing* hole = nullptr) {
  json::array rings;
  rings.push_back(ringOf(outer, false));
  if (hole != nullptr) rings.push_back(ringOf(*hole, true));
  return {{"type", "Polygon"}, {"coordinates", rings}};
}

void addGreen(json::array& features, const TrueGreen& green, const std::string& openingDay) {
  const auto outline = outlineOf(green);
  const auto collar = outlineOf(green, 1.2);
  const auto beyond = outlineOf(green, 4.5);
  json::object own{
      {"role", "green"}, {"name", green.name}, {"species", json::array{green.species}}};
  if (!openingDay.empty()) own["opening_day"] = openingDay;
  features.push_back(feature(polygon(outline), std::move(own)));
  features.push_back(feature(polygon(collar, &outline), {{"role", "surround"},
                                                         {"green", green.name},
                                                         {"zone", "collar"},
                                                         {"species", json::array{green.species}},
                                                         {"slope_percent", 3}}));
  features.push_back(feature(polygon(beyond, &collar),
                             {{"role", "surround"},
                              {"green", green.name},
                              {"zone", "bank"},
                              {"species", json::array{"perennial ryegrass", "red fescue"}},
                              {"slope_percent", green.name == "Hollow" ? 22 : 12}}));
  const auto plane = coursePlane();
  for (const auto& [what, angle] :
       {std::pair{"sprinkler west", 3.0}, std::pair{"sprinkler east", 0.2},
        std::pair{"drain lid", 4.6}}) {
    const auto at = placeOn(green, angle, 1.08);
    features.push_back(
        feature(json::object{{"type", "Point"}, {"coordinates", positionOf(plane.toGlobe(at))}},
                {{"role", "mark"}, {"name", green.name + " " + what}, {"accuracy_m", 0.03}}));
  }
}

void addMaterials(json::array& features, const std::string& tested) {
  const auto add = [&](json::object properties) {
    features.push_back(feature(nullptr, std::move(properties)));
  };
  add({{"role", "seed_lot"},
       {"name", "Bent 26-4"},
       {"species", "creeping bentgrass"},
       {"purity", 0.98},
       {"germination", 0.9},
       {"tested", tested},
       {"seeds_per_g", json::array{13200, 17600}},
       {"packs_kg", json::array{0.25, 1}},
       {"stock_kg", 0.06}});
  add({{"role", "seed_lot"},
       {"name", "Bank mix 3"},
       {"species",
        json::array{json::object{{"species", "perennial ryegrass"}, {"share_by_weight", 0.6}},
                    json::object{{"species", "red fescue"}, {"share_by_weight", 0.4}}}},
       {"purity", 0.97},
       {"germination", 0.88},
       {"tested", tested},
       {"packs_kg", json::array{5, 20}},
       {"stock_kg", 12}});
  add({{"role", "fill"},
       {"name", "Medium sand"},
       {"bulk_density_kg_l", 1.55},
       {"settles_by", 0.1},
       {"packs_kg", json::array{25}},
       {"stock_kg", 120}});
  add({{"role", "feed"},
       {"name", "Starter 6-9-6"},
       {"analysis", json::array{6, 9, 6}},
       {"label_rate_g_m2", 20},
       {"ceiling_g_m2", 35},
       {"soluble_n_share", 0.7},
       {"packs_kg", json::array{10, 25}},
       {"stock_kg", 75}});
  add({{"role", "turf"},
       {"name", "Turf, sand grown"},
       {"species", "creeping bentgrass"},
       {"thickness_mm", 20},
       {"piece_m2", 0.04},
       {"stock_m2", 0.5}});
}

}  // namespace

geo::LocalRing outlineOf(const TrueGreen& green, double outward_m) {
  geo::LocalRing ring;
  constexpr int points = 72;
  for (int i = 0; i < points; ++i) {
    const double angle = 2.0 * std::numbers::pi * i / points;
    const double radius = radiusAt(green, angle) + outward_m;
    ring.push_back({green.east_m + radius * std::cos(angle),
                    green.north_m + green.squash * radius * std::sin(angle)});
  }
  return ring;
}

geo::LocalPoint placeOn(const TrueGreen& green, double angle, double reach) {
  const double radius = reach * radiusAt(green, angle);
  return {green.east_m + radius * std::cos(angle),
          green.north_m + green.squash * radius * std::sin(angle)};
}

std::string courseFile(const std::string& openingDay, const std::string& earlyDay,
                       const std::string& tested) {
  json::array features;
  features.push_back(feature(nullptr, {{"role", "course"},
                                       {"name", "Quillbeck"},
                                       {"time_zone", "Europe/London"},
                                       {"opening_day", openingDay},
                                       {"bare_share_limit", 0.01},
                                       {"wanted_probability", 0.8},
                                       {"stage", "grow-in"},
                                       {"cart_limit_kg", 150}}));
  for (const auto& green : greens()) {
    addGreen(features, green, green.name == "Mill" ? earlyDay : std::string());
  }
  addMaterials(features, tested);
  return json::serialize(json::object{{"type", "FeatureCollection"}, {"features", features}}) +
         "\n";
}

}  // namespace swardwalk::sample
