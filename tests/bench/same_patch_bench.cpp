#include <benchmark/benchmark.h>
#include <fmt/format.h>

#include <chrono>
#include <random>

#include "common/answers/same_patch.h"
#include "common/geo/local_plane.h"

/// A suggestion among 100,000 open patches on a square kilometre of greens (one on 10 m2,
/// far denser than any course), against the plain query of the spatial index for it.
namespace swardwalk {
namespace {

constexpr int patchCount = 100'000;
constexpr double side_m = 1000.0;

geo::Position anywhere(std::mt19937_64& random) {
  static const geo::LocalPlane plane(geo::Position{52.0, 5.0});
  std::uniform_real_distribution<double> metres(-0.5 * side_m, 0.5 * side_m);
  return plane.toGlobe(geo::LocalPoint{metres(random), metres(random)});
}

course::CourseState manyPatches() {
  std::mt19937_64 random(1);
  std::uniform_real_distribution<double> u_m(0.1, 1.5);
  course::CourseState state;
  for (int i = 0; i < patchCount; ++i) {
    course::Patch patch;
    patch.id = patch.label = fmt::format("P{}", i);
    course::Sighting sighting;
    sighting.patch = patch.id;
    sighting.point = anywhere(random);
    sighting.accuracy_m = u_m(random);
    sighting.source.device = i % 2 == 0 ? "Tablet a" : "Tablet b";
    patch.sightings.push_back(std::move(sighting));
    state.patches.push_back(std::move(patch));
  }
  return state;
}

answers::SameQuestion ask(std::mt19937_64& random) {
  answers::SameQuestion question;
  question.position = anywhere(random);
  question.u_m = 1.0;
  return question;
}

double secondsSince(std::chrono::steady_clock::time_point start) {
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

void suggestionAmongManyPatches(benchmark::State& bench) {
  const course::CourseState state = manyPatches();
  const answers::PatchFinder finder(
      state, [](const course::Patch&) { return true; }, measure::UnitSystem::metric);
  std::vector<geo::SpatialIndex::Entry> entries;
  for (const course::Patch& patch : state.patches) {
    const course::Sighting& sighting = patch.sightings.front();
    entries.push_back({*sighting.point, 3.03 * *sighting.accuracy_m});
  }
  const geo::SpatialIndex index(entries);
  std::mt19937_64 random(2);
  double asked_s = 0.0;
  double plain_s = 0.0;
  std::size_t candidates = 0;
  for (auto step : bench) {
    const answers::SameQuestion question = ask(random);
    const auto start = std::chrono::steady_clock::now();
    const answers::SameAnswer same = finder.find(question);
    const double this_s = secondsSince(start);
    candidates += same.candidates.size();
    bench.SetIterationTime(this_s);
    asked_s += this_s;
    const auto plain = std::chrono::steady_clock::now();
    benchmark::DoNotOptimize(index.near(question.position, 3.03));
    plain_s += secondsSince(plain);
  }
  bench.counters["times_the_plain_query"] = asked_s / plain_s;
  bench.counters["candidates"] =
      static_cast<double>(candidates) / static_cast<double>(bench.iterations());
}
BENCHMARK(suggestionAmongManyPatches)->UseManualTime()->Unit(benchmark::kMicrosecond);

void findingAllPairs(benchmark::State& bench) {
  const course::CourseState state = manyPatches();
  const answers::PatchFinder finder(
      state, [](const course::Patch&) { return true; }, measure::UnitSystem::metric);
  for (auto step : bench) benchmark::DoNotOptimize(finder.pairs());
}
BENCHMARK(findingAllPairs)->Unit(benchmark::kMillisecond)->Iterations(1);

void makingTheFinder(benchmark::State& bench) {
  const course::CourseState state = manyPatches();
  for (auto step : bench) {
    const answers::PatchFinder finder(
        state, [](const course::Patch&) { return true; }, measure::UnitSystem::metric);
    benchmark::DoNotOptimize(&finder);
  }
}
BENCHMARK(makingTheFinder)->Unit(benchmark::kMillisecond)->Iterations(3);

}  // namespace
}  // namespace swardwalk
