// How often the truth lies within the 95 % interval of a walked outline: the simulator
// shares no code with the estimator, and draws time constants that the estimator is not
// told. The tables stand in common/geo/WALKS.md; `geo_test --gtest_filter='WalkCoverage.*'`
// prints them.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <string>

#include "common/geo/walk.h"
#include "walk_simulator.h"

namespace swardwalk::geo {
namespace {

constexpr int walksOfACell = 2000;

/// Three times the standard deviation of a share of 95 % among the walks of a cell.
constexpr double sampling = 0.015;

struct Receiver {
  double u_m;
  double smallest_m2;  ///< patches for which somebody may take it
  double largest_m2;
};
constexpr std::array<Receiver, 3> receivers = {
    {{0.02, 2.0, 200.0}, {1.0, 20.0, 400.0}, {4.0, 100.0, 1600.0}}};

/// What the walks of one form and receiver came to.
struct Cell {
  int walks = 0;
  int tooSmall = 0;
  int over100 = 0;  ///< round more than 100 m2
  int over100TooSmall = 0;
  int covered = 0;
  double share = 0.0;  ///< sum of u over area

  int measured() const { return walks - tooSmall; }
  double coverage() const { return static_cast<double>(covered) / measured(); }
};

Cell cellOf(PatchForm form, const Receiver& receiver, TimeDraw draw) {
  Cell cell;
  for (int i = 0; i < walksOfACell; ++i) {
    const auto seed = static_cast<std::uint64_t>(i) * 3 + static_cast<std::uint64_t>(form);
    const double truth_m2 = drawnByRatio(receiver.smallest_m2, receiver.largest_m2, seed + 7);
    const auto walk = drawnWalk(form, truth_m2, receiver.u_m, draw, seed + 100'000);
    const auto outline = walkedOutline(simulate(walk, seed + 200'000), {});
    if (!outline) {
      ADD_FAILURE() << outline.error().text();
      continue;
    }
    ++cell.walks;
    if (truth_m2 > 100.0) ++cell.over100;
    if (outline->tooSmall) {
      ++cell.tooSmall;
      if (truth_m2 > 100.0) ++cell.over100TooSmall;
      continue;
    }
    const double u_m2 = outline->area_m2.u.value();
    if (std::abs(outline->area_m2.value - truth_m2) <= 1.96 * u_m2) ++cell.covered;
    cell.share += u_m2 / truth_m2;
  }
  return cell;
}

using Table = std::array<std::array<Cell, receivers.size()>, 3>;

Table tableOf(TimeDraw draw) {
  constexpr std::array<const char*, 3> names = {"circle", "scar", "L"};
  Table table;
  int covered = 0;
  int measured = 0;
  std::string text = "| patch | receiver m | walks | too small | within 95 % | u / area |\n";
  for (std::size_t form = 0; form < names.size(); ++form) {
    for (std::size_t i = 0; i < receivers.size(); ++i) {
      const Cell cell = cellOf(static_cast<PatchForm>(form), receivers[i], draw);
      text += fmt::format("| {} | {} | {} | {:.1f} % | {:.1f} % | {:.0f} % |\n", names[form],
                          receivers[i].u_m, cell.walks, 100.0 * cell.tooSmall / cell.walks,
                          100.0 * cell.coverage(), 100.0 * cell.share / cell.measured());
      covered += cell.covered;
      measured += cell.measured();
      if (receivers[i].u_m == 1.0) {
        EXPECT_LE(cell.over100TooSmall, 0.05 * cell.over100);
      }
      table[form][i] = cell;
    }
  }
  const double all = static_cast<double>(covered) / measured;
  fmt::print("{}| all | | {} measured | | {:.1f} % | |\n", text, measured, 100.0 * all);
  EXPECT_GE(all, 0.93);
  EXPECT_LE(all, 0.97);
  return table;
}

TEST(WalkCoverage, TruthLiesWithinInEachFormAndReceiver) {
  for (const auto& row : tableOf(TimeDraw::evenly)) {
    for (std::size_t i = 0; i < receivers.size(); ++i) {
      SCOPED_TRACE(receivers[i].u_m);
      EXPECT_GE(row[i].coverage(), 0.93 - sampling);
      EXPECT_LE(row[i].coverage(), 0.97 + sampling);
    }
  }
}

TEST(WalkCoverage, TruthLiesWithinForEachReceiverWhereRestlessOnesAreMany) {
  const Table table = tableOf(TimeDraw::byRatio);
  for (std::size_t i = 0; i < receivers.size(); ++i) {
    SCOPED_TRACE(receivers[i].u_m);
    int covered = 0;
    int measured = 0;
    for (const auto& row : table) {
      covered += row[i].covered;
      measured += row[i].measured();
      // The boldest cell (WALKS.md); less would be a change for the worse.
      EXPECT_GE(row[i].coverage(), 0.92 - sampling);
      EXPECT_LE(row[i].coverage(), 0.97 + sampling);
    }
    EXPECT_GE(static_cast<double>(covered) / measured, 0.93);
    EXPECT_LE(static_cast<double>(covered) / measured, 0.97);
  }
}

}  // namespace
}  // namespace swardwalk::geo
