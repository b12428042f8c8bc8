#include "common/geo/tape_place.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

namespace swardwalk::geo {
namespace {

constexpr double ends_u_m = 0.02;
constexpr double sagShare = 0.002;
/// Longer than any tape on a course; more is a slip of the finger.
constexpr double longestTape_m = 200.0;
constexpr double leastChance = 0.001;
/// Mirrored places nearer than this many uncertainties are not two.
constexpr double flatness = 8.0;
/// Nearer marks are one spot, and marks less far off their line lie on it.
constexpr double oneSpot_m = 0.5;
constexpr double onLine_m = 0.2;
/// Pairs of more readings only repeat what the first say about where to start.
constexpr std::size_t mostStarts = 6;

using Readings = std::span<const TapeToMark>;

double distance_m(LocalPoint a, LocalPoint b) {
  return std::hypot(a.east_m - b.east_m, a.north_m - b.north_m);
}

double variance_m2(const TapeToMark& reading) {
  const double tape_u = tape_u_m(reading.distance_m);
  return tape_u * tape_u + reading.mark_u_m * reading.mark_u_m;
}

tl::unexpected<Failure> refuse(std::string what, std::string todo) {
  return fail(FailureKind::invalid, "tapes", std::move(what), std::move(todo));
}

/// The normal equations at a place.
struct Normal {
  double a = 0.0, b = 0.0, c = 0.0;  ///< J'WJ
  double u = 0.0, v = 0.0;           ///< J'W times the misses
  double chiSquare = 0.0;

  double determinant() const { return a * c - b * b; }
};

Normal normalAt(Readings readings, LocalPoint place) {
  Normal sums;
  for (const TapeToMark& reading : readings) {
    const double weight = 1.0 / variance_m2(reading);
    const double range_m = std::max(distance_m(reading.mark, place), 1e-6);
    const double east = (place.east_m - reading.mark.east_m) / range_m;
    const double north = (place.north_m - reading.mark.north_m) / range_m;
    const double miss_m = reading.distance_m - range_m;
    sums.a += weight * east * east;
    sums.b += weight * east * north;
    sums.c += weight * north * north;
    sums.u += weight * east * miss_m;
    sums.v += weight * north * miss_m;
    sums.chiSquare += weight * miss_m * miss_m;
  }
  return sums;
}

/// Gauss-Newton, each step damped until it betters the fit; nothing where all marks lie in
/// one direction, so that one coordinate is free.
std::optional<LocalPoint> settle(Readings readings, LocalPoint place) {
  Normal here = normalAt(readings, place);
  for (int step = 0; step < 60; ++step) {
    if (here.determinant() < 1e-9 * here.a * here.c) return std::nullopt;
    const double east = (here.c * here.u - here.b * here.v) / here.determinant();
    const double north = (here.a * here.v - here.b * here.u) / here.determinant();
    double share = 1.0;
    LocalPoint next;
    Normal there;
    for (; share > 1e-4; share *= 0.5) {
      next = {place.east_m + share * east, place.north_m + share * north};
      there = normalAt(readings, next);
      if (there.chiSquare <= here.chiSquare) break;
    }
    const double moved_m = distance_m(place, next);
    if (there.chiSquare > here.chiSquare) return place;
    place = next;
    here = there;
    if (moved_m < 1e-9) break;
  }
  return place;
}

/// Both places where the circles of two readings meet; the nearest ones where they miss.
void addMeetings(const TapeToMark& a, const TapeToMark& b, std::vector<LocalPoint>& starts) {
  const double apart_m = distance_m(a.mark, b.mark);
  if (apart_m < oneSpot_m) return;
  const double along_m =
      (a.distance_m * a.distance_m - b.distance_m * b.distance_m + apart_m * apart_m) /
      (2.0 * apart_m);
  // A little aside where they only touch: on the line itself no step leads off it.
  const double aside_m = std::sqrt(std::max(0.01, a.distance_m * a.distance_m - along_m * along_m));
  const double east = (b.mark.east_m - a.mark.east_m) / apart_m;
  const double north = (b.mark.north_m - a.mark.north_m) / apart_m;
  const LocalPoint foot{a.mark.east_m + along_m * east, a.mark.north_m + along_m * north};
  starts.push_back({foot.east_m - aside_m * north, foot.north_m + aside_m * east});
  starts.push_back({foot.east_m + aside_m * north, foot.north_m - aside_m * east});
}

TapePlace describe(Readings readings, LocalPoint place) {
  const Normal normal = normalAt(readings, place);
  TapePlace found;
  found.place = place;
  found.doubt = {normal.c / normal.determinant(), -normal.b / normal.determinant(),
                 normal.a / normal.determinant()};
  found.chiSquare = normal.chiSquare;
  found.spareReadings = static_cast<int>(readings.size()) - 2;
  double worst = -1.0;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const double miss_m = std::abs(readings[i].distance_m - distance_m(readings[i].mark, place));
    const double weighed = miss_m / std::sqrt(variance_m2(readings[i]));
    if (weighed <= worst) continue;
    worst = weighed;
    found.worstMiss_m = miss_m;
    found.worstReading = i;
  }
  return found;
}

/// Every place where the misses are smallest among their neighbours, the best first.
std::vector<TapePlace> smallestMisses(Readings readings) {
  std::vector<LocalPoint> starts;
  const std::size_t most = std::min(readings.size(), mostStarts);
  for (std::size_t i = 0; i < most; ++i) {
    for (std::size_t j = i + 1; j < most; ++j) addMeetings(readings[i], readings[j], starts);
  }
  std::vector<TapePlace> found;
  for (const LocalPoint start : starts) {
    const auto place = settle(readings, start);
    if (!place) continue;
    const bool known = std::any_of(found.begin(), found.end(), [&](const TapePlace& other) {
      return distance_m(other.place, *place) < 0.005;
    });
    if (!known) found.push_back(describe(readings, *place));
  }
  std::sort(found.begin(), found.end(),
            [](const TapePlace& a, const TapePlace& b) { return a.chiSquare < b.chiSquare; });
  return found;
}

/// The chance of misses at least so large; two tapes that meet have none.
double chanceOf(const TapePlace& place) {
  return place.spareReadings < 1 ? 1.0 : chanceOfMore(place.chiSquare, place.spareReadings);
}

Result<void> checkNumbers(Readings readings) {
  for (const TapeToMark& reading : readings) {
    if (!(reading.distance_m > 0.0 && reading.distance_m <= longestTape_m))
      return refuse(fmt::format("{:.2f} m to {} is not a reading of a tape", reading.distance_m,
                                reading.name),
                    "measure it again");
    if (!(reading.mark_u_m >= 0.0 && std::isfinite(reading.mark.east_m) &&
          std::isfinite(reading.mark.north_m)))
      return refuse(fmt::format("{} has no place", reading.name), "record the mark again");
  }
  return {};
}

/// Refuses marks that lie on one spot, or three and more on one line.
Result<void> checkMarks(Readings readings) {
  const TapeToMark& first = readings.front();
  const TapeToMark* far = &first;
  for (const TapeToMark& reading : readings) {
    if (distance_m(reading.mark, first.mark) > distance_m(far->mark, first.mark)) far = &reading;
  }
  const double apart_m = distance_m(far->mark, first.mark);
  if (apart_m < oneSpot_m)
    return refuse("the marks lie on one spot", "take marks that lie apart, seen from the patch");
  if (readings.size() == 2) return {};
  for (const TapeToMark& reading : readings) {
    const double off_m =
        std::abs(
            (far->mark.east_m - first.mark.east_m) * (reading.mark.north_m - first.mark.north_m) -
            (far->mark.north_m - first.mark.north_m) * (reading.mark.east_m - first.mark.east_m)) /
        apart_m;
    if (off_m > std::max(onLine_m, 3.0 * reading.mark_u_m)) return {};
  }
  return refuse("the marks lie on one line, so that the place may be on either side of it",
                "take one mark off that line, or only two marks and say which side");
}

/// Two tapes that are too short to meet, or one too long for the other.
Result<void> checkReach(const TapeToMark& a, const TapeToMark& b) {
  const double apart_m = distance_m(a.mark, b.mark);
  const double gap_m = std::max(apart_m - a.distance_m - b.distance_m,
                                std::abs(a.distance_m - b.distance_m) - apart_m);
  const double u_m = std::sqrt(variance_m2(a) + variance_m2(b));
  if (gap_m <= 0.0 || chanceOfMore(gap_m * gap_m / (u_m * u_m), 1) >= leastChance) return {};
  return refuse(
      fmt::format("the tapes from {} and {} miss each other by {:.2f} m", a.name, b.name, gap_m),
      "measure both again, and see that they are those marks");
}

}  // namespace

double tape_u_m(double distance_m) { return std::hypot(ends_u_m, sagShare * distance_m); }

Result<std::vector<TapePlace>> placesByTape(Readings readings) {
  if (readings.size() < 2)
    return refuse("a place takes the tape from two marks", "measure from another mark");
  if (auto numbers = checkNumbers(readings); !numbers) return tl::unexpected(numbers.error());
  if (auto marks = checkMarks(readings); !marks) return tl::unexpected(marks.error());

  if (readings.size() == 2) {
    if (auto reach = checkReach(readings[0], readings[1]); !reach)
      return tl::unexpected(reach.error());
  }

  std::vector<TapePlace> found = smallestMisses(readings);
  const auto flat = [] {
    return refuse(
        "the place lies almost in line with the marks, so that the tapes cross too flatly",
        "measure from a mark that lies to the side");
  };
  if (found.empty()) return flat();
  const TapePlace best = found.front();
  if (chanceOf(best) < leastChance) {
    const TapeToMark& worst = readings[best.worstReading];
    return refuse(fmt::format("the tapes do not agree: the one from {} misses by {:.2f} m",
                              worst.name, best.worstMiss_m),
                  "measure it again, and see that it is that mark");
  }
  const auto unlikely = [](const TapePlace& place) { return chanceOf(place) < leastChance; };
  found.erase(std::remove_if(found.begin(), found.end(), unlikely), found.end());
  // The lowest and the second lowest: more than two never fit when the marks are not on a line.
  if (found.size() > 2) found.resize(2);
  const double worst_u = best.doubt.worst_u_m();
  const bool touching = readings.size() == 2 && found.size() < 2;
  const bool near =
      found.size() == 2 && distance_m(found[0].place, found[1].place) < flatness * worst_u;
  if (touching || near) return flat();
  return found;
}

const TapePlace* settledBy(std::span<const TapePlace> places, LocalPoint rough,
                           const PlaceDoubt& roughDoubt) {
  const TapePlace* nearest = nullptr;
  double least = 0.0;
  double second = INFINITY;
  for (const TapePlace& place : places) {
    const double squared =
        squaredDistance({rough.east_m - place.place.east_m, rough.north_m - place.place.north_m},
                        place.doubt + roughDoubt);
    if (nearest == nullptr || squared < least) {
      if (nearest != nullptr) second = least;
      nearest = &place;
      least = squared;
    } else {
      second = std::min(second, squared);
    }
  }
  if (nearest == nullptr || chanceOfMore(least, 2) < leastChance) return nullptr;
  // exp(-(a - b) / 2) is how much likelier one makes the rough place than the other.
  return second - least > 2.0 * std::log(100.0) ? nearest : nullptr;
}

}  // namespace swardwalk::geo
