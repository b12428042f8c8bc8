#include "common/geo/inset_curve.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <numbers>

#include "common/geo/outline.h"
#include "common/geo/tape.h"

namespace swardwalk::geo {
namespace {

using std::numbers::pi;

/// A little less than the class allows itself: a thousandth of the full area.
constexpr double stated = 1e-3;

LocalShape shapeOf(LocalRing ring) { return {{std::move(ring), {}}}; }

/// Compares the whole curve with a formula of the area left.
void expectCurve(const LocalShape& shape, const std::function<double(double)>& left,
                 double closing_m) {
  const InsetCurve curve(shape);
  const double full_m2 = area_m2(shape);
  EXPECT_DOUBLE_EQ(curve.area_m2(0.0), full_m2);
  EXPECT_NEAR(curve.closingInset_m(), closing_m, 2e-3 * closing_m + 1e-6);
  for (int i = 0; i <= 100; ++i) {
    const double inset = closing_m * i / 100.0;
    EXPECT_NEAR(curve.area_m2(inset), left(inset), stated * full_m2) << "inset " << inset;
  }
  EXPECT_EQ(curve.area_m2(1.01 * closing_m), 0.0);
}

TEST(InsetCurve, OfACircle) {
  // 60 points: the ring's own perimeter and inradius differ from the circle's by 5e-4.
  expectCurve(
      shapeOf(tapeRing(TapeForm::ellipse, 2.0, 2.0, 60)),
      [](double d) { return pi * (1.0 - d) * (1.0 - d); }, 1.0);
}

TEST(InsetCurve, OfASquareAndARectangle) {
  expectCurve(
      shapeOf({{0, 0}, {1, 0}, {1, 1}, {0, 1}}),
      [](double d) { return (1.0 - 2.0 * d) * (1.0 - 2.0 * d); }, 0.5);
  expectCurve(
      shapeOf({{0, 0}, {0, 1}, {3, 1}, {3, 0}}),
      [](double d) { return (3.0 - 2.0 * d) * (1.0 - 2.0 * d); }, 0.5);
}

TEST(InsetCurve, OfALongNarrowScarLyingAnyWay) {
  for (const double angle : {0.0, 0.3, pi / 4.0, pi / 2.0}) {
    LocalRing scar;
    for (const LocalPoint& p : LocalRing{{0, 0}, {30, 0}, {30, 0.1}, {0, 0.1}}) {
      scar.push_back({1e4 + p.east_m * std::cos(angle) - p.north_m * std::sin(angle),
                      p.east_m * std::sin(angle) + p.north_m * std::cos(angle)});
    }
    expectCurve(
        shapeOf(scar), [](double d) { return (30.0 - 2.0 * d) * (0.1 - 2.0 * d); }, 0.05);
  }
}

/// An L of two arms 1 wide and 3 long: d from every edge and from the inward corner.
double leftOfL(double d) {
  // Columns of the part right of the west edge's strip; midpoint sums, 1e-6 exact enough.
  constexpr int columns = 20'000;
  double area = 0.0;
  for (int i = 0; i < columns; ++i) {
    const double x = 3.0 * (i + 0.5) / columns;
    if (x < d || x > 3.0 - d) continue;
    const double aside = 1.0 - x;
    double top = 3.0 - d;
    if (x >= 1.0) {
      top = 1.0 - d;
    } else if (aside < d) {
      top = 1.0 - std::sqrt(d * d - aside * aside);
    }
    area += std::max(top - d, 0.0) * 3.0 / columns;
  }
  return area;
}

TEST(InsetCurve, OfAnLWithItsInwardCorner) {
  // Where the two arms meet: d from both outer edges and the corner (1, 1):
  // (1 - d) sqrt(2) = d.
  expectCurve(shapeOf({{0, 0}, {3, 0}, {3, 1}, {1, 1}, {1, 3}, {0, 3}}), leftOfL,
              std::numbers::sqrt2 / (1.0 + std::numbers::sqrt2));
}

TEST(InsetCurve, OfARingWithAHole) {
  const LocalShape ring = {
      {tapeRing(TapeForm::ellipse, 4.0, 4.0, 120), {tapeRing(TapeForm::ellipse, 2.0, 2.0, 120)}}};
  expectCurve(
      ring, [](double d) { return pi * ((2.0 - d) * (2.0 - d) - (1.0 + d) * (1.0 + d)); }, 0.5);
}

TEST(InsetCurve, OfTwoPartsIsTheSumOfBoth) {
  LocalRing far = {{10, 0}, {12, 0}, {12, 2}, {10, 2}};
  expectCurve(
      {{{{0, 0}, {1, 0}, {1, 1}, {0, 1}}, {}}, {far, {}}},
      [](double d) {
        const double small = std::max(1.0 - 2.0 * d, 0.0);
        return small * small + (2.0 - 2.0 * d) * (2.0 - 2.0 * d);
      },
      1.0);
}

/// A rough outline as a hand draws it: radius 1.5 with waves of several lengths.
LocalRing rough(int points) {
  LocalRing ring;
  for (int i = 0; i < points; ++i) {
    const double a = 2.0 * pi * i / points;
    const double r = 1.5 + 0.35 * std::sin(2.0 * a + 1.0) + 0.2 * std::cos(3.0 * a) +
                     0.08 * std::sin(11.0 * a) + 0.05 * std::cos(17.0 * a + 2.0);
    ring.push_back({r * std::cos(a), r * std::sin(a)});
  }
  return ring;
}

TEST(InsetCurve, StartsWithThePerimeterAsItsSlope) {
  // Young patches have crept a few millimetres: there the loss itself must be right.
  for (const LocalShape& shape : {shapeOf({{0, 0}, {1, 0}, {1, 1}, {0, 1}}), shapeOf(rough(60))}) {
    const InsetCurve curve(shape);
    const double lost = area_m2(shape) - curve.area_m2(0.002);
    const double expected = 0.002 * perimeter_m(shape[0]);
    EXPECT_NEAR(lost, expected, 0.01 * expected);
  }
}

TEST(InsetCurve, NeverGrowsAndItsInverseIsItsInverse) {
  for (const LocalShape& shape :
       {shapeOf(rough(60)), shapeOf({{0, 0}, {3, 0}, {3, 1}, {1, 1}, {1, 3}, {0, 3}}),
        shapeOf(tapeRing(TapeForm::ellipse, 2.0, 2.0, 60))}) {
    const InsetCurve curve(shape);
    const double full_m2 = area_m2(shape);
    double before = full_m2 + 1.0;
    for (int i = -20; i < 400; ++i) {
      const double inset = curve.closingInset_m() * i / 400.0;
      const double area = curve.area_m2(inset);
      EXPECT_LT(area, before);
      before = area;
      EXPECT_NEAR(curve.inset_m(area), inset, 1e-9) << inset;
    }
    EXPECT_DOUBLE_EQ(curve.inset_m(0.0), curve.closingInset_m());
    EXPECT_DOUBLE_EQ(curve.inset_m(-1.0), curve.closingInset_m());
    EXPECT_EQ(curve.inset_m(full_m2), 0.0);
  }
}

TEST(InsetCurve, OutwardGainsPerimeterAndRoundedCorners) {
  const InsetCurve curve(shapeOf({{0, 0}, {1, 0}, {1, 1}, {0, 1}}));
  EXPECT_NEAR(curve.area_m2(-0.1), 1.0 + 0.4 + pi * 0.01, 1e-12);  // Steiner, convex
  EXPECT_NEAR(curve.inset_m(1.0 + 0.4 + pi * 0.01), -0.1, 1e-12);
}

TEST(InsetCurve, RepeatedAndStraightPointsChangeNothing) {
  const InsetCurve plain(shapeOf({{0, 0}, {1, 0}, {1, 1}, {0, 1}}));
  const InsetCurve full(
      shapeOf({{0, 0}, {0, 0}, {0.5, 0}, {1, 0}, {1, 0.25}, {1, 1}, {1, 1}, {0, 1}, {0, 0}}));
  for (const double inset : {0.0, 0.1, 0.3, 0.45}) {
    EXPECT_NEAR(full.area_m2(inset), plain.area_m2(inset), stated);
  }
}

}  // namespace
}  // namespace swardwalk::geo
