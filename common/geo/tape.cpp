#include "common/geo/tape.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace swardwalk::geo {
namespace {

using std::numbers::pi;
using std::numbers::sqrt2;

/// Area of the form over length times width.
double fullness(TapeForm form) {
  switch (form) {
    case TapeForm::ellipse:
      return pi / 4.0;
    case TapeForm::rectangle:
      return 1.0;
    case TapeForm::triangle:
      return 0.5;
  }
  assert(false);
  return 0.0;
}

}  // namespace

measure::Measured tapeArea_m2(TapeForm form, double length_m, double width_m, double edge_u_m) {
  assert(length_m >= 0.0 && width_m >= 0.0 && edge_u_m >= 0.0);
  const double full = fullness(form);
  return {full * length_m * width_m, full * sqrt2 * edge_u_m * std::hypot(length_m, width_m)};
}

measure::Measured pacedArea_m2(TapeForm form, double length_paces, double width_paces,
                               const measure::Measured& pace_m, double edge_u_m) {
  assert(length_paces >= 0.0 && width_paces >= 0.0 && pace_m.value > 0.0);
  const double length_m = length_paces * pace_m.value;
  const double width_m = width_paces * pace_m.value;
  const measure::Measured placed = tapeArea_m2(form, length_m, width_m, edge_u_m);
  if (!pace_m.u) return {placed.value, std::nullopt};
  const double counted_m2 =
      fullness(form) * paceCount_u * pace_m.value * std::hypot(length_m, width_m);
  const double paced_m2 = 2.0 * placed.value * *pace_m.u / pace_m.value;
  return {placed.value, std::hypot(placed.u.value_or(0.0), std::hypot(counted_m2, paced_m2))};
}

measure::Measured paceOf_m(std::span<const PaceWalk> walks) {
  assert(!walks.empty());
  double length_m = 0.0;
  double paces = 0.0;
  double variance_m2 = 0.0;
  for (const PaceWalk& walk : walks) {
    assert(walk.length_m > 0.0 && walk.paces > 0.0);
    length_m += walk.length_m;
    paces += walk.paces;
    const double counted_m = paceCount_u * walk.length_m / walk.paces;
    variance_m2 += walk.length_u_m * walk.length_u_m + counted_m * counted_m;
  }
  const double pace_m = length_m / paces;
  double varies_m = paceVaries * pace_m;
  if (walks.size() > 2) {
    double squares = 0.0;
    for (const PaceWalk& walk : walks) squares += std::pow(walk.length_m / walk.paces - pace_m, 2);
    varies_m = std::max(varies_m, std::sqrt(squares / static_cast<double>(walks.size() - 1)));
  }
  return {pace_m, std::hypot(std::sqrt(variance_m2) / paces, varies_m)};
}

measure::Measured frameArea_m2(int squaresBare, int squares, double frame_m2, double edge_u_m) {
  assert(squares > 0 && squaresBare >= 0 && squaresBare <= squares);
  assert(frame_m2 > 0.0 && edge_u_m >= 0.0);
  const double square_m2 = frame_m2 / squares;
  const double area_m2 = squaresBare * square_m2;
  // Of a blob too small to fill half a square none is counted: its edge is doubtful too.
  const double diameter_m = std::sqrt(std::max(area_m2, 0.5 * square_m2) * 4.0 / pi);
  const double placed_m2 =
      tapeArea_m2(TapeForm::ellipse, diameter_m, diameter_m, edge_u_m).u.value_or(0.0);
  // A line of length P meets 4/pi P/side squares of a grid that lies at random under it;
  // the bare share of each, anything from 0 to 1, was rounded to 0 or 1.
  const double squaresCut = 4.0 * diameter_m / std::sqrt(square_m2);
  const double counted_m2 = square_m2 * std::sqrt(squaresCut / 12.0);
  return {area_m2, std::hypot(placed_m2, counted_m2)};
}

LocalRing tapeRing(TapeForm form, double length_m, double width_m, int ellipsePoints) {
  assert(length_m >= 0.0 && width_m >= 0.0 && ellipsePoints >= 3);
  const double east = 0.5 * length_m;
  const double north = 0.5 * width_m;
  switch (form) {
    case TapeForm::rectangle:
      return {{-east, -north}, {east, -north}, {east, north}, {-east, north}};
    case TapeForm::triangle:
      return {{-east, -width_m / 3.0}, {east, -width_m / 3.0}, {0.0, width_m * 2.0 / 3.0}};
    case TapeForm::ellipse:
      break;
  }
  // Chords cut the ellipse short; a little larger, the ring has the ellipse's area.
  const double step = 2.0 * pi / ellipsePoints;
  const double larger = std::sqrt(step / std::sin(step));
  LocalRing ring;
  for (int i = 0; i < ellipsePoints; ++i) {
    ring.push_back({larger * east * std::cos(i * step), larger * north * std::sin(i * step)});
  }
  return ring;
}

}  // namespace swardwalk::geo
