#include <benchmark/benchmark.h>
#include <fmt/format.h>

#include "common/answers/plan.h"
#include "common/answers/progress.h"
#include "common/geo/local_plane.h"

// The plan of many open patches, after `progress`, with and without ten thousand records of
// history behind them.
namespace swardwalk::answers {
namespace {

constexpr int onOneGreen = 25;
const measure::Date today = *measure::parseDate("2027-04-12");

measure::Instant daysAgo(int days) {
  return measure::Instant(std::chrono::hours(24) * (today.time_since_epoch().count() - days)) +
         std::chrono::hours(7);
}

void addShed(course::CourseState& state) {
  turf::SeedLot lot;
  lot.name = "Bent 26-4";
  lot.parts = {{"creeping bentgrass", 1.0}};
  lot.purity = 0.98;
  lot.germination = 0.9;
  lot.packs.sizes_kg = {0.25, 1.0, 5.0};
  lot.stock_kg = 0.4;
  state.seedLots.push_back(lot);
  turf::Feed feed;
  feed.name = "Starter";
  feed.nitrogen_percent = 6.0;
  feed.packs.sizes_kg = {10.0, 25.0};
  state.feeds.push_back(feed);
  turf::Fill sand;
  sand.name = "Medium sand";
  sand.bulkDensity_kg_l = 1.55;
  sand.packs.sizes_kg = {25.0};
  state.fills.push_back(sand);
  turf::Turf sod;
  sod.name = "Sod";
  sod.species = "creeping bentgrass";
  sod.thickness_mm = 20.0;
  sod.piece_m2 = 0.04;
  state.turfs.push_back(sod);
}

course::CourseState courseOf(int patches) {
  course::CourseState state;
  state.course.name = "Quillbeck";
  state.course.openingDay = today + std::chrono::days(90);
  state.course.cartLimit_kg = 250.0;
  addShed(state);
  for (int day = 0; day < 80; ++day) {
    course::Temperature temperature;
    temperature.on = today - std::chrono::days(79 - day);
    temperature.min_c = 9.0 + 0.05 * day;
    temperature.max_c = 17.0 + 0.05 * day;
    state.temperatures.push_back(temperature);
  }
  constexpr turf::Kind kinds[] = {turf::Kind::bare, turf::Kind::dug, turf::Kind::washed,
                                  turf::Kind::hungry};
  for (int i = 0; i < patches; ++i) {
    const int number = i / onOneGreen;
    if (i % onOneGreen == 0) {
      const geo::LocalPlane plane(geo::Position{52.0, -1.0 + 0.001 * number});
      course::Green green;
      green.name = fmt::format("Green {:04}", number);
      const geo::LocalRing edge = {{-15, -12}, {15, -12}, {15, 12}, {-15, 12}};
      green.shape = {{plane.toGlobe(edge), {}}};
      green.species = {"creeping bentgrass"};
      state.greens.push_back(green);
    }
    course::Patch patch;
    patch.id = patch.label = fmt::format("p{:06}", i);
    patch.green = state.greens.back().name;
    patch.kind = kinds[i % 4];
    for (int look = 0; look < 4; ++look) {
      course::Sighting sighting;
      sighting.patch = patch.id;
      sighting.kind = patch.kind;
      sighting.seen = daysAgo(22 - 7 * look);
      const double size_m = 0.4 + 0.01 * (i % 30) - 0.01 * look;
      sighting.tape = course::TapeSize{geo::TapeForm::ellipse, size_m, 0.6 * size_m};
      if (patch.kind == turf::Kind::dug) sighting.depths_mm = {20.0 + i % 30};
      patch.sightings.push_back(std::move(sighting));
    }
    state.patches.push_back(std::move(patch));
  }
  return state;
}

/// Work of ten years: patches that are closed, with what was done to them, feedings,
/// cuts and rain.
void addHistory(course::CourseState& state, int records) {
  for (int i = 0; i < records; ++i) {
    const int ago = 30 + i % 3600;
    const std::string green = state.greens[static_cast<std::size_t>(i) % state.greens.size()].name;
    switch (i % 4) {
      case 0: {
        course::Patch patch;
        patch.id = patch.label = fmt::format("old{:06}", i);
        patch.green = green;
        course::Repair repair;
        repair.patch = patch.id;
        repair.done = daysAgo(ago);
        repair.seedLot = "Bent 26-4";
        repair.seed_g = 2.0;
        patch.repairs.push_back(repair);
        patch.closed.push_back({{}, patch.id, daysAgo(ago - 20)});
        state.patches.push_back(std::move(patch));
        break;
      }
      case 1: {
        course::Feeding feeding;
        feeding.green = green;
        feeding.done = daysAgo(ago);
        feeding.feed = "Starter";
        feeding.rate_g_m2 = 10.0;
        state.feedings.push_back(feeding);
        break;
      }
      case 2: {
        course::Mowing mowing;
        mowing.green = green;
        mowing.done = daysAgo(ago);
        mowing.height_mm = 5.0;
        mowing.clippings_l = 20.0;
        state.mowings.push_back(mowing);
        break;
      }
      default:
        state.rain.push_back({{}, daysAgo(ago), daysAgo(ago) + std::chrono::hours(6), 6.0, {}});
    }
  }
}

void planOf(benchmark::State& bench) {
  course::CourseState state = courseOf(static_cast<int>(bench.range(0)));
  addHistory(state, static_cast<int>(bench.range(1)));
  const Progress made = progress(state, today, measure::UnitSystem::metric);
  for (auto _ : bench) {
    benchmark::DoNotOptimize(plan(state, made, measure::UnitSystem::metric));
  }
}
BENCHMARK(planOf)
    ->ArgNames({"patches", "history"})
    ->Args({100, 0})
    ->Args({1000, 0})
    ->Args({1000, 10000})
    ->Args({1000, 100000})
    ->Unit(benchmark::kMillisecond);

void progressBeforeIt(benchmark::State& bench) {
  course::CourseState state = courseOf(static_cast<int>(bench.range(0)));
  addHistory(state, static_cast<int>(bench.range(1)));
  for (auto _ : bench) {
    benchmark::DoNotOptimize(progress(state, today, measure::UnitSystem::metric));
  }
}
BENCHMARK(progressBeforeIt)
    ->ArgNames({"patches", "history"})
    ->Args({1000, 0})
    ->Args({1000, 10000})
    ->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace swardwalk::answers
