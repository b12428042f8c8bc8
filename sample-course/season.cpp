#include "sample-course/season.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "sample-course/ground.h"

namespace swardwalk::sample {
namespace {

struct Planned {
  std::size_t green;
  turf::Kind kind;
  Story story;
  double length_m;
  double width_m;
  bool round;
  double depth_mm;
  int bornDay;
};

using turf::Kind;

/// The cast: Hollow has the worst of it, Long the least. Greens by their index.
const std::vector<Planned>& cast() {
  static const std::vector<Planned> all = {
      {0, Kind::washed, Story::washedTwice, 4.2, 0.32, false, 22, 1},
      {0, Kind::dug, Story::dugTwice, 0.55, 0.45, true, 38, 3},
      {0, Kind::bare, Story::sownUp, 1.3, 1.0, true, 0, 0},
      {0, Kind::bare, Story::sownWashedOut, 0.9, 0.8, true, 0, 2},
      {0, Kind::bare, Story::leftAlone, 1.6, 0.9, true, 0, 0},
      {0, Kind::bare, Story::closes, 0.9, 0.05, false, 0, 2},
      {0, Kind::hungry, Story::hungry, 3.0, 2.4, true, 0, 9},
      {0, Kind::bare, Story::stalls, 1.1, 0.9, true, 0, 4},
      {0, Kind::washed, Story::stormDamage, 5.4, 0.38, false, 28, 41},
      {0, Kind::dug, Story::markedTwiceOpen, 0.6, 0.5, true, 30, 41},
      {1, Kind::bare, Story::leftAlone, 0.5, 0.3, true, 0, 1},
      {1, Kind::bare, Story::closes, 1.4, 0.06, false, 0, 5},
      {1, Kind::dug, Story::closes, 0.07, 0.06, true, 18, 6},
      {1, Kind::bare, Story::sownDue, 0.8, 0.7, true, 0, 8},
      {1, Kind::hungry, Story::hungry, 4.1, 2.2, true, 0, 15},
      {1, Kind::bare, Story::leftAlone, 2.0, 0.05, false, 0, 24},
      {2, Kind::bare, Story::sownFailed, 1.0, 0.7, true, 0, 3},
      {2, Kind::dug, Story::leftAlone, 0.4, 0.35, true, 26, 11},
      {2, Kind::washed, Story::leftAlone, 2.1, 0.14, false, 8, 13},
      {2, Kind::bare, Story::grows, 0.7, 0.6, true, 0, 10},
      {2, Kind::bare, Story::seenOnce, 0.5, 0.4, true, 0, 39},
      {2, Kind::hungry, Story::hungry, 2.6, 2.0, true, 0, 28},
      {3, Kind::bare, Story::markedTwice, 0.8, 0.6, true, 0, 7},
      {3, Kind::bare, Story::sownWaiting, 1.1, 0.7, true, 0, 16},
      {3, Kind::washed, Story::stormDamage, 3.2, 0.26, false, 17, 41},
      {3, Kind::dug, Story::dugTwice, 0.5, 0.4, true, 34, 5},
      {3, Kind::bare, Story::closes, 1.1, 0.055, false, 0, 1},
      {3, Kind::bare, Story::leftAlone, 0.9, 0.07, false, 0, 20},
  };
  return all;
}

double trueArea_m2(bool round, double length_m, double width_m) {
  return (round ? std::numbers::pi / 4.0 : 1.0) * length_m * width_m;
}

}  // namespace

Season::Season(std::uint64_t seed) {
  Noise noise(seed);
  double warmth = 0.0;
  double drift = 0.0;
  for (int day = 0; day < seasonDays; ++day) {
    warmth = 0.7 * warmth + 1.3 * noise.normal();
    const double mean_c = 13.0 + 0.08 * day + warmth;
    const double swing_c = noise.between(4.0, 6.5);
    Weather weather{mean_c - swing_c, mean_c + swing_c, 0.0, {}};
    if (noise.chance(0.28)) weather.rain_mm = noise.between(0.5, 7.0);
    if (day == firstStormDay) {
      weather.rain_mm = 24.0;
      weather.peak_mm_h = 18.0;
    }
    if (day == secondStormDay) {
      weather.rain_mm = 31.0;
      weather.peak_mm_h = 26.0;
    }
    // Dry before the second storm, so that a sowing that failed has its reason.
    if (day > 20 && day < 38) weather.rain_mm *= 0.25;
    weather_.push_back(weather);
    if (day % 7 == 0) drift = 0.8 * drift + 0.18 * noise.normal();
    drift_.push_back(std::exp(drift + 0.1 * std::sin(day / 9.0)));
  }
  addPatches(noise);
}

void Season::addPatches(Noise& noise) {
  std::vector<int> onGreen(greens().size(), 0);
  std::vector<double> greenCreep;
  for (std::size_t i = 0; i < greens().size(); ++i) greenCreep.push_back(noise.between(0.7, 1.2));
  for (const auto& planned : cast()) {
    const auto& green = greens()[planned.green];
    TruePatch patch;
    patch.id = fmt::format("{:016x}{:016x}", noise.bits(), noise.bits());
    patch.green = planned.green;
    patch.kind = planned.kind;
    patch.story = planned.story;
    // Spread round the green like the seeds of a sunflower, so that none overlap.
    const int place = ++onGreen[planned.green];
    patch.middle = placeOn(green, 2.39996 * place + noise.between(-0.15, 0.15),
                           0.26 + 0.56 * std::sqrt(place / 11.0));
    patch.length_m = planned.length_m * noise.between(0.93, 1.07);
    patch.width_m = planned.width_m * noise.between(0.93, 1.07);
    patch.round = planned.round;
    patch.depth_mm = planned.depth_mm;
    patch.bornDay = planned.bornDay;
    patch.creep_mm_d = greenCreep[planned.green] * noise.between(0.75, 1.3);
    if (planned.story == Story::stalls) patch.creep_mm_d = 0.0;
    if (planned.story == Story::grows) patch.creep_mm_d = -2.2;
    if (planned.kind == Kind::hungry) patch.creep_mm_d = 0.0;
    patches_.push_back(patch);
  }
}

Milestones Season::milestones(Story story) {
  Milestones days;
  switch (story) {
    case Story::washedTwice:
      days.filledSown = 4;
      days.washedAgain = firstStormDay + 1;
      days.sownAgain = 15;
      days.washedThird = secondStormDay + 1;
      break;
    case Story::dugTwice:
      days.rakedBack = 8;
      days.dugAgain = 23;
      break;
    case Story::sownUp:
      days.filledSown = 9;
      days.up = 22;
      break;
    case Story::sownFailed:
      days.filledSown = 14;
      break;
    case Story::sownWaiting:
      days.filledSown = 37;
      break;
    case Story::sownDue:
      days.filledSown = 29;
      break;
    case Story::sownWashedOut:
      days.filledSown = 33;
      days.washedAgain = secondStormDay + 1;
      break;
    case Story::hungry:
      days.fed = 30;
      break;
    case Story::markedTwice:
      days.joined = 19;
      break;
    case Story::stalls:
    case Story::stormDamage:
      days.chosen = secondStormDay + 1;
      break;
    default:
      break;
  }
  return days;
}

TrueSize Season::sizeOn(const TruePatch& patch, int day) const {
  TrueSize size;
  if (day < patch.bornDay) return size;
  const auto days = milestones(patch.story);
  double length_m = patch.length_m;
  double width_m = patch.width_m;
  double depth_mm = patch.depth_mm;
  double covered = 0.0;
  for (int past = patch.bornDay + 1; past <= day; ++past) {
    const double creep_m = 0.001 * patch.creep_mm_d * drift_[static_cast<std::size_t>(past)];
    length_m -= 2.0 * creep_m;
    width_m -= 2.0 * creep_m;
    if (past == days.filledSown || past == days.sownAgain) depth_mm = 0.0;
    if (past == days.rakedBack) depth_mm = std::min(depth_mm, 6.0);
    if (past == days.dugAgain || past == days.washedAgain || past == days.washedThird) {
      length_m = std::max(length_m, patch.length_m) * 1.15;
      width_m = std::max(width_m, patch.width_m) * 1.12;
      depth_mm = std::max(patch.depth_mm, 9.0);
    }
    if (days.up >= 0 && past > days.up)
      covered = 1.0 / (1.0 + std::exp((days.up + 16 - past) / 4.0));
  }
  if (length_m <= 0.0 || width_m <= 0.0) return size;
  size.open = true;
  size.length_m = length_m * std::sqrt(1.0 - covered);
  size.width_m = width_m * std::sqrt(1.0 - covered);
  size.depth_mm = depth_mm;
  size.area_m2 = trueArea_m2(patch.round, size.length_m, size.width_m);
  return size;
}

}  // namespace swardwalk::sample
