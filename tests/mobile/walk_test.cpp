#include <gtest/gtest.h>

#include <boost/json.hpp>

#include "mobile/walk/bearings.h"
#include "mobile/walk/seen_grass.h"
#include "tests/mobile/trial_course.h"

namespace swardwalk::mobile {
namespace {

TEST(Bearings, CompassWordsFollowTheSky) {
  const geo::Position here = trialPlace(0, 0);
  EXPECT_EQ(bearing(here, trialPlace(0, 10)).compass(), "north");
  EXPECT_EQ(bearing(here, trialPlace(7, -7)).compass(), "south-east");
  EXPECT_EQ(bearing(here, trialPlace(-10, 1)).compass(), "west");
  EXPECT_EQ(bearing(here, trialPlace(-0.2, 10)).compass(), "north") << "just west of north";
  EXPECT_NEAR(bearing(here, trialPlace(3, 4)).distance_m, 5.0, 1e-6);
}

TEST(Bearings, WhatPositionsTellApartGrowsWithTheirDoubt) {
  // sqrt(5.991 x (1 + 1)) = 3.461: chi-square, two degrees of freedom, 95 %.
  EXPECT_NEAR(canTellApart_m(1, 1), 3.461, 0.001);
  EXPECT_TRUE(mayBeSamePlace(3.4, 1, 1));
  EXPECT_FALSE(mayBeSamePlace(3.5, 1, 1));
}

TEST(SeenGrass, AWalkAcrossTheMiddleSeesTheBandWithinReach) {
  const geo::LocalShape square{{{{-10, -10}, {10, -10}, {10, 10}, {-10, 10}}, {}}};
  SeenGrass grass(square);
  EXPECT_DOUBLE_EQ(grass.share(), 0.0);
  grass.walk({-20, 0}, {20, 0});
  // A band of 8 m in 20 m; the grid of 2000 points has steps of 0.45 m.
  EXPECT_NEAR(grass.share(), 0.4, 0.03);
  const double once = grass.share();
  grass.walk({-20, 0}, {20, 0});
  EXPECT_DOUBLE_EQ(grass.share(), once);
}

TEST(Walk, NearestNotYetSeenIsNamedWithDistanceAndDirection) {
  Trial trial(Trial::Begin::withCourse);
  trial.stand(4, 0);
  const NearPatch& near = trial.app().walk().near();
  ASSERT_TRUE(near.there);
  EXPECT_EQ(near.why, "Nearest not yet seen");
  EXPECT_EQ(near.title, "Hollow 10, bare");
  EXPECT_EQ(near.distance, "2.8 m");
  EXPECT_EQ(near.compass, "south-east");
  EXPECT_TRUE(near.maybeSame);
}

TEST(Walk, WithoutAPositionThereIsNoDistance) {
  Trial trial(Trial::Begin::withCourse);
  const NearPatch& near = trial.app().walk().near();
  ASSERT_TRUE(near.there);
  EXPECT_EQ(near.why, "Not yet seen");
  EXPECT_TRUE(near.distance.isEmpty());
  EXPECT_FALSE(near.maybeSame);
}

TEST(Walk, WhatIsMeasuredInTheRoundCountsAsSeen) {
  Trial trial(Trial::Begin::withCourse);
  trial.stand(6, -2);
  trial.app().walk().startRound();
  EXPECT_TRUE(trial.app().walk().show().round.endsWith("0 of 6 patches"))
      << trial.app().walk().show().round.toStdString();
  trial.app().walk().measureNear();
  ASSERT_TRUE(trial.app().mark().save());
  EXPECT_TRUE(trial.app().walk().show().round.endsWith("1 of 6 patches"))
      << trial.app().walk().show().round.toStdString();
  EXPECT_NE(trial.app().walk().near().id, "p10");
}

TEST(Walk, ARoundIsRecordedWithItsTrack) {
  Trial trial(Trial::Begin::withCourse);
  const auto before = trial.bodies("round").size();
  trial.stand(-13, 0);
  trial.app().walk().startRound();
  for (int step = 1; step <= 20; ++step) trial.stand(-13 + step * 1.3, 0);
  EXPECT_GT(trial.app().walk().show().seen, 0.3);
  trial.app().walk().finishRound();
  EXPECT_FALSE(trial.app().walk().show().running);
  const auto rounds = trial.bodies("round");
  ASSERT_EQ(rounds.size(), before + 1);
  EXPECT_NE(rounds.back().find("\"Hollow\""), std::string::npos);
  const auto& last = trial.app().store().state().rounds;
  ASSERT_FALSE(last.empty());
  std::size_t longest = 0;
  for (const course::Round& round : last) longest = std::max(longest, round.track.size());
  EXPECT_EQ(longest, 21u);
}

TEST(Walk, ARoundGoesOnAfterARestart) {
  Trial trial(Trial::Begin::withCourse);
  trial.stand(-13, 0);
  trial.app().walk().startRound();
  for (int east_m = -12; east_m <= 12; ++east_m) trial.stand(east_m, 0);
  trial.restart();
  EXPECT_TRUE(trial.app().walk().show().running);
  EXPECT_GT(trial.app().walk().show().seen, 0.2) << "the track was kept";
}

TEST(Walk, GoingToAnotherGreenShowsThatOne) {
  Trial trial(Trial::Begin::withCourse);
  trial.stand(0, 0);
  EXPECT_EQ(trial.app().walk().show().green, "Hollow");
  trial.stand(62, 0);
  EXPECT_EQ(trial.app().walk().show().green, "North");
}

TEST(Walk, RainSinceTheLastRoundIsSummed) {
  Trial trial(Trial::Begin::withCourse);
  EXPECT_EQ(trial.app().walk().show().rain, "14.0 mm rain since the last round");
}

TEST(Walk, ABlankTabletHasNoGreen) {
  Trial trial(Trial::Begin::blank);
  EXPECT_FALSE(trial.app().walk().show().hasGreen);
  EXPECT_FALSE(trial.app().walk().near().there);
}

}  // namespace
}  // namespace swardwalk::mobile
