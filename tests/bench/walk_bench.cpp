// Walked outlines, and the area of one patch against a general geodesic-area routine.
#include <benchmark/benchmark.h>

#include <GeographicLib/PolygonArea.hpp>
#include <chrono>
#include <cmath>

#include "common/geo/outline.h"
#include "common/geo/walk.h"

namespace swardwalk::geo {
namespace {

const GlobeRing patch = {{60.170104608, 24.938711391}, {60.170100120, 24.938758227},
                         {60.170103710, 24.938805062}, {60.170126149, 24.938821275},
                         {60.170145895, 24.938790651}, {60.170127046, 24.938707788}};

void patchOfSixPoints(benchmark::State& state) {
  const GlobeShape shape = {{patch, {}}};
  for (auto _ : state) benchmark::DoNotOptimize(groundArea_m2(shape));
}
BENCHMARK(patchOfSixPoints);

/// The same patch; the times of both are the ratio.
void patchOfSixPointsByGeodesics(benchmark::State& state) {
  for (auto _ : state) {
    GeographicLib::PolygonArea polygon(GeographicLib::Geodesic::WGS84());
    for (const Position& place : patch) polygon.AddPoint(place.latitude_deg, place.longitude_deg);
    double perimeter_m = 0.0;
    double area_m2 = 0.0;
    polygon.Compute(false, true, perimeter_m, area_m2);
    benchmark::DoNotOptimize(area_m2);
  }
}
BENCHMARK(patchOfSixPointsByGeodesics);

/// `rounds` round a circle with 3,600 fixes, the edge swaying by `sway_m` as a walker does.
std::vector<Fix> roundTrip(double radius_m, double every_s, double accuracy_m, double sway_m,
                           double rounds = 1.0) {
  const LocalPlane plane({51.5, -0.12});
  constexpr int count = 3600;
  std::vector<Fix> fixes;
  for (int i = 0; i < count; ++i) {
    const double angle = 2.0 * 3.141592653589793 * rounds * i / count;
    const double reach_m =
        radius_m + sway_m * std::sin(0.9 * i) + accuracy_m * std::sin(3.0 * angle);
    Fix fix;
    fix.position = plane.toGlobe({reach_m * std::cos(angle), reach_m * std::sin(angle)});
    fix.time = measure::Instant{std::chrono::milliseconds{static_cast<int>(1000.0 * every_s * i)}};
    fix.accuracy_m = accuracy_m;
    fixes.push_back(fix);
  }
  return fixes;
}

/// Beyond its start by a tenth of the way: both passes cross each other many times.
void walkAcrossItsStart(benchmark::State& state) {
  const double accuracy_m = 0.01 * static_cast<double>(state.range(0));
  const double every_s = 0.1 * static_cast<double>(state.range(1));
  const std::vector<Fix> fixes = roundTrip(521.0 * every_s, every_s, accuracy_m, 0.1, 1.1);
  for (auto _ : state) benchmark::DoNotOptimize(walkedOutline(fixes, {}));
}
BENCHMARK(walkAcrossItsStart)
    ->ArgNames({"accuracy_cm", "every_100_ms"})
    ->ArgsProduct({{2, 100, 400}, {1, 10}})
    ->Unit(benchmark::kMillisecond);

void walkOf3600Fixes(benchmark::State& state) {
  const double accuracy_m = 0.01 * static_cast<double>(state.range(0));
  const double every_s = 0.1 * static_cast<double>(state.range(1));
  const std::vector<Fix> fixes = roundTrip(573.0 * every_s, every_s, accuracy_m, 0.1);
  for (auto _ : state) benchmark::DoNotOptimize(walkedOutline(fixes, {}));
}
BENCHMARK(walkOf3600Fixes)
    ->ArgNames({"accuracy_cm", "every_100_ms"})
    ->ArgsProduct({{2, 100, 400}, {1, 10}})
    ->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace swardwalk::geo
