#include "common/geo/tape_place.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "tape_simulator.h"

namespace swardwalk::geo {
namespace {

using testing::HasSubstr;

std::vector<TapeToMark> tapes(std::initializer_list<TapeToMark> list) { return list; }

TEST(PlaceDoubt, SquaredDistanceIsThatOfTheEllipse) {
  EXPECT_DOUBLE_EQ(squaredDistance({3.0, 4.0}, PlaceDoubt::round(2.0)), 25.0 / 4.0);
  // S = [[2, 1], [1, 2]] has the inverse [[2, -1], [-1, 2]] / 3.
  EXPECT_NEAR(squaredDistance({1.0, 2.0}, {2.0, 1.0, 2.0}), (2.0 - 4.0 + 8.0) / 3.0, 1e-12);
  EXPECT_NEAR(PlaceDoubt({2.0, 1.0, 2.0}).worst_u_m(), std::sqrt(3.0), 1e-12);
}

TEST(PlaceDoubt, ChancesAreThoseOfChiSquare) {
  // Upper 5 % points of any table of chi-square: 3.841459 (1), 5.991465 (2), 7.814728 (3).
  EXPECT_NEAR(chanceOfMore(3.841459, 1), 0.05, 1e-7);
  EXPECT_NEAR(chanceOfMore(chiSquare95OfPlace, 2), 0.05, 1e-12);
  EXPECT_NEAR(chanceOfMore(7.814728, 3), 0.05, 1e-7);
}

/// Ranges from the corners of a rectangle of 30 x 20 m to (12, 9).
std::vector<TapeToMark> rectangleOfFour(double third_m, double mark_u_m) {
  return tapes({{"A", {0, 0}, mark_u_m, 15.02},
                {"B", {30, 0}, mark_u_m, 20.11},
                {"C", {30, 20}, mark_u_m, third_m},
                {"D", {0, 20}, mark_u_m, 16.30}});
}

TEST(PlacesByTape, FourRangesGiveTheLeastSquaresPlace) {
  // Marks known to a metre weigh all tapes alike (to 0.2 %), as unweighted least squares
  // does; its place and cofactors were computed with an independent program.
  const auto places = placesByTape(rectangleOfFour(21.08, 1.0));
  ASSERT_TRUE(places) << places.error().text();
  const TapePlace& place = places->front();
  EXPECT_NEAR(place.place.east_m, 12.0212190964, 1e-5);
  EXPECT_NEAR(place.place.north_m, 8.9987739451, 1e-5);
  EXPECT_NEAR(place.doubt.eastEast_m2, 0.3687606114, 0.002);
  EXPECT_NEAR(place.doubt.eastNorth_m2, -0.0076342756, 0.002);
  EXPECT_NEAR(place.doubt.northNorth_m2, 0.7767595158, 0.002);
  EXPECT_EQ(place.spareReadings, 2);
  EXPECT_NEAR(place.worstMiss_m, 0.004914, 1e-5);
}

TEST(PlacesByTape, OneReadingAMetreLongIsRefusedByName) {
  const auto places = placesByTape(rectangleOfFour(22.08, 0.0));
  ASSERT_FALSE(places);
  EXPECT_THAT(places.error().what, HasSubstr("do not agree"));
  EXPECT_THAT(places.error().what, HasSubstr("from "));
}

TEST(PlacesByTape, TwoMarksGiveBothMirroredPlaces) {
  // a = 20, d1 = 12, d2 = 16: x = 7.2, y = +-9.6, the tapes crossing at a right angle.
  const auto places = placesByTape(tapes({{"A", {0, 0}, 0.0, 12.0}, {"B", {20, 0}, 0.0, 16.0}}));
  ASSERT_TRUE(places) << places.error().text();
  ASSERT_EQ(places->size(), 2U);
  for (const TapePlace& place : *places) {
    EXPECT_NEAR(place.place.east_m, 7.2, 1e-6);
    EXPECT_NEAR(std::abs(place.place.north_m), 9.6, 1e-6);
    // At a right angle the two tapes' uncertainties are those of the two directions.
    EXPECT_NEAR(place.doubt.u_m(),
                std::sqrt(0.5 * (std::pow(tape_u_m(12.0), 2) + std::pow(tape_u_m(16.0), 2))), 1e-6);
  }
  EXPECT_NEAR((*places)[0].place.north_m, -(*places)[1].place.north_m, 1e-6);
}

TEST(PlacesByTape, ARoughPositionSettlesTheSideOnlyWhereItTellsThemApart) {
  const auto places = placesByTape(tapes({{"A", {0, 0}, 0.0, 12.0}, {"B", {20, 0}, 0.0, 16.0}}));
  ASSERT_TRUE(places);
  const TapePlace* north = settledBy(*places, {9.0, 6.0}, PlaceDoubt::round(4.0));
  ASSERT_NE(north, nullptr);
  EXPECT_NEAR(north->place.north_m, 9.6, 1e-6);
  EXPECT_EQ(settledBy(*places, {7.0, 1.0}, PlaceDoubt::round(4.0)), nullptr) << "on the line";
  EXPECT_EQ(settledBy(*places, {60.0, 9.6}, PlaceDoubt::round(4.0)), nullptr) << "elsewhere";
}

TEST(PlacesByTape, MarksOnOneLineAreRefusedWithTheReason) {
  const auto places = placesByTape(tapes(
      {{"A", {0, 0}, 0.0, 12.0}, {"B", {20, 0.05}, 0.0, 16.0}, {"C", {10, 0.02}, 0.0, 10.0}}));
  ASSERT_FALSE(places);
  EXPECT_THAT(places.error().what, HasSubstr("on one line"));
}

TEST(PlacesByTape, APlaceOnTheLineOfTheMarksIsRefused) {
  const auto places = placesByTape(tapes({{"A", {0, 0}, 0.0, 10.01}, {"B", {20, 0}, 0.0, 10.01}}));
  ASSERT_FALSE(places);
  EXPECT_THAT(places.error().what, HasSubstr("too flatly"));
  const auto onIt = placesByTape(tapes({{"A", {0, 0}, 0.0, 9.99}, {"B", {20, 0}, 0.0, 10.0}}));
  ASSERT_FALSE(onIt);
  EXPECT_THAT(onIt.error().what, HasSubstr("too flatly"));
}

TEST(PlacesByTape, NonsenseIsRefusedInWords) {
  EXPECT_FALSE(placesByTape({}));
  EXPECT_FALSE(placesByTape(tapes({{"A", {0, 0}, 0.0, 10.0}})));
  const auto apart = placesByTape(tapes({{"A", {0, 0}, 0.0, 5.0}, {"B", {20, 0}, 0.0, 5.0}}));
  ASSERT_FALSE(apart);
  EXPECT_THAT(apart.error().what, HasSubstr("miss each other by 10.00 m"));
  EXPECT_FALSE(placesByTape(tapes({{"A", {0, 0}, 0.0, 5.0}, {"A", {0, 0}, 0.0, 5.0}})));
  EXPECT_FALSE(placesByTape(tapes({{"A", {0, 0}, 0.0, NAN}, {"B", {20, 0}, 0.0, 5.0}})));
  EXPECT_FALSE(placesByTape(tapes({{"A", {0, 0}, 0.0, -1.0}, {"B", {20, 0}, 0.0, 5.0}})));
  EXPECT_FALSE(placesByTape(tapes({{"A", {NAN, 0}, 0.0, 9.0}, {"B", {20, 0}, 0.0, 19.0}})));
}

/// What 2,000 places by tape do.
struct Table {
  int answered = 0;
  int covered = 0;    ///< truths within the 95 % ellipse
  int wrongSide = 0;  ///< settled to the mirrored place
  double square_m2 = 0.0;
};

Table tableOf(int marks, double mark_u_m, double rough_u_m) {
  Table table;
  for (std::uint64_t seed = 0; seed < 2000; ++seed) {
    const SimulatedTapes scene = simulateTapes(marks, mark_u_m, rough_u_m, 77'000 + seed);
    std::vector<TapeToMark> readings;
    for (const auto& reading : scene.readings)
      readings.push_back({"M", reading.mark, reading.mark_u_m, reading.distance_m});
    const auto places = placesByTape(readings);
    if (!places) continue;
    const TapePlace* place = settledBy(*places, scene.rough, PlaceDoubt::round(scene.rough_u_m));
    if (place == nullptr) continue;
    const LocalPoint off{place->place.east_m - scene.truth.east_m,
                         place->place.north_m - scene.truth.north_m};
    const double off_m = std::hypot(off.east_m, off.north_m);
    ++table.answered;
    if (off_m > 2.0) ++table.wrongSide;
    table.square_m2 += off_m * off_m;
    if (squaredDistance(off, place->doubt) < chiSquare95OfPlace) ++table.covered;
  }
  return table;
}

TEST(PlacesByTape, TheEllipseCoversTheTruthAsOftenAsItSays) {
  for (const int marks : {2, 3, 4}) {
    for (const double mark_u_m : {0.0, 0.03, 0.1}) {
      const Table table = tableOf(marks, mark_u_m, 2.0);
      const double covered = static_cast<double>(table.covered) / table.answered;
      const double rms_m = std::sqrt(table.square_m2 / table.answered);
      fmt::print(
          "{} marks known to {:.2f} m: {} of 2000 answered, 95 % ellipse covers {:.1f} %, "
          "off by {:.3f} m (rms); the bare receiver {:.1f} m: {:.0f} times better\n",
          marks, mark_u_m, table.answered, 100.0 * covered, rms_m, 2.0 * std::sqrt(2.0),
          2.0 * std::sqrt(2.0) / rms_m);
      EXPECT_GT(covered, 0.93);
      EXPECT_LT(covered, 0.97);
      EXPECT_GT(table.answered, 1200);
      // A rough position settles the side by odds of a hundred to one.
      EXPECT_LT(table.wrongSide, 0.01 * table.answered);
      EXPECT_LT(rms_m, 0.5);
    }
  }
}

}  // namespace
}  // namespace swardwalk::geo
