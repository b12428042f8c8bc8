#include <benchmark/benchmark.h>
#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "common/answers/kept_work.h"
#include "common/answers/progress.h"
#include "common/geo/inset_curve.h"
#include "common/geo/local_plane.h"
#include "common/geo/outline.h"

// Forecasts of many patches with ten outlined sightings each, from nothing and with one more
// sighting; cost against the number of patches; the inset curve of one outline.
namespace swardwalk::answers {
namespace {

constexpr int looks = 10;
constexpr int onOneGreen = 25;
constexpr int corners = 60;

const measure::Date firstDay = *measure::parseDate("2027-02-01");

measure::Instant morning(int day) {
  return measure::Instant(std::chrono::hours(24) * ((firstDay.time_since_epoch().count()) + day)) +
         std::chrono::hours(7);
}

/// An outline as a hand draws it, closing from its edge.
geo::LocalRing outline(double radius_m, int seed) {
  geo::LocalRing ring;
  for (int i = 0; i < corners; ++i) {
    const double a = 2.0 * std::numbers::pi * i / corners;
    const double r = radius_m * (1.0 + 0.2 * std::sin(2.0 * a + seed) + 0.1 * std::cos(5.0 * a) +
                                 0.04 * std::sin(11.0 * a + 2.0 * seed));
    ring.push_back({r * std::cos(a), 0.7 * r * std::sin(a)});
  }
  return ring;
}

course::CourseState courseOf(int patches) {
  course::CourseState state;
  state.course.name = "Quillbeck";
  state.course.openingDay = *measure::parseDate("2027-06-15");
  for (int day = 0; day < 80; ++day) {
    course::Temperature temperature;
    temperature.on = firstDay + std::chrono::days(day);
    temperature.min_c = 9.0 + 0.05 * day;
    temperature.max_c = 17.0 + 0.05 * day;
    state.temperatures.push_back(temperature);
  }
  for (int i = 0; i < patches; ++i) {
    const int greenNumber = i / onOneGreen;
    const geo::LocalPlane plane(geo::Position{52.0, -1.0 + 0.001 * greenNumber});
    if (i % onOneGreen == 0) {
      course::Green green;
      green.name = fmt::format("Green {:04}", greenNumber);
      geo::LocalRing edge = {{-15, -12}, {15, -12}, {15, 12}, {-15, 12}};
      green.shape = {{plane.toGlobe(edge), {}}};
      green.species = {"creeping bentgrass"};
      state.greens.push_back(green);
    }
    course::Patch patch;
    patch.id = fmt::format("p{:06}", i);
    patch.green = state.greens.back().name;
    const double east_m = 5.0 * (i % 5) - 10.0;
    const double north_m = 4.0 * (i / 5 % 5) - 8.0;
    for (int look = 0; look < looks; ++look) {
      course::Sighting sighting;
      sighting.patch = patch.id;
      sighting.seen = morning(7 * look);
      const double scatter = 0.004 * std::sin(37.0 * i + 11.0 * look);
      geo::LocalRing ring = outline(0.5 + 0.01 * (i % 7) - 0.006 * look + scatter, i);
      for (geo::LocalPoint& point : ring) {
        point.east_m += east_m;
        point.north_m += north_m;
      }
      sighting.outline = {{plane.toGlobe(ring), {}}};
      patch.sightings.push_back(std::move(sighting));
    }
    state.patches.push_back(std::move(patch));
  }
  return state;
}

void forecastsFromNothing(benchmark::State& bench) {
  const auto state = courseOf(static_cast<int>(bench.range(0)));
  const measure::Date on = firstDay + std::chrono::days(70);
  for (auto _ : bench) {
    benchmark::DoNotOptimize(progress(state, on, measure::UnitSystem::metric));
  }
  bench.SetComplexityN(bench.range(0));
}
BENCHMARK(forecastsFromNothing)
    ->Arg(100)
    ->Arg(1000)
    ->Arg(10000)
    ->Unit(benchmark::kMillisecond)
    ->Complexity(benchmark::oN);

/// One more sighting of one patch, then one less, for an asker who keeps what was worked out.
void forecastsWithOneSightingMore(benchmark::State& bench) {
  course::CourseState state = courseOf(static_cast<int>(bench.range(0)));
  const measure::Date on = firstDay + std::chrono::days(70);
  course::Patch& seen = state.patches[state.patches.size() / 2];
  const course::Sighting last = seen.sightings.back();
  KeptWork kept;
  Progress answer = progress(state, on, measure::UnitSystem::metric, kept);
  for (auto _ : bench) {
    if (seen.sightings.size() == looks) {
      seen.sightings.pop_back();
    } else {
      seen.sightings.push_back(last);
    }
    answer = progress(state, on, measure::UnitSystem::metric, kept);
  }
  bench.SetComplexityN(bench.range(0));
}
BENCHMARK(forecastsWithOneSightingMore)
    ->Arg(100)
    ->Arg(1000)
    ->Arg(10000)
    ->Unit(benchmark::kMillisecond)
    ->Complexity(benchmark::oN);

void insetCurveOfSixtyPoints(benchmark::State& bench) {
  const geo::LocalShape shape = {{outline(0.8, 3), {}}};
  for (auto _ : bench) benchmark::DoNotOptimize(geo::InsetCurve(shape));
}
BENCHMARK(insetCurveOfSixtyPoints)->Unit(benchmark::kMicrosecond);

void forecastOfOnePatch(benchmark::State& bench) {
  const geo::LocalShape shape = {{outline(0.5, 3), {}}};
  const geo::InsetCurve curve(shape);
  infill::PatchHistory history;
  history.curve = &curve;
  history.prior = infill::CreepPrior{{1.0, 0.5, 1.8}};
  for (int look = 0; look < looks; ++look) {
    history.sizes.push_back({7.0 * look, {curve.area_m2(0.006 * look), 0.03}});
  }
  history.today = 63.0;
  for (auto _ : bench) benchmark::DoNotOptimize(infill::forecastPatch(history));
}
BENCHMARK(forecastOfOnePatch)->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace swardwalk::answers
