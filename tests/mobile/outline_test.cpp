#include <gtest/gtest.h>

#include <boost/json.hpp>
#include <cmath>
#include <numbers>

#include "common/course/state.h"
#include "mobile/walk/outline_draft.h"
#include "tests/mobile/trial_course.h"

namespace swardwalk::mobile {
namespace {

/// Walks round a circle, a metre a second or less.
void walkCircle(Trial& trial, double east_m, double north_m, double r_m, double accuracy_m,
                double share = 1.0) {
  const int steps = 32;
  for (int i = 0; i < static_cast<int>(steps * share); ++i) {
    const double angle = 2 * std::numbers::pi * i / steps;
    trial.stand(east_m + r_m * std::cos(angle), north_m + r_m * std::sin(angle), accuracy_m);
  }
}

void beginOutline(Trial& trial, Show::Kind kind) {
  trial.app().walk().mark();
  trial.app().mark().chooseKind(kind);
  trial.app().mark().walkOutline();
}

TEST(Outline, AWalkRoundAPatchIsSavedWithItsAreaAndItsFixes) {
  Trial trial(Trial::Begin::withCourse);
  trial.stand(6, 4, 0.5);
  beginOutline(trial, Show::Bare);
  ASSERT_EQ(trial.app().shell().task(), Shell::Outline);
  trial.app().outline().stepBack();
  walkCircle(trial, 4, 4, 2.0, 0.5);
  ASSERT_TRUE(trial.app().outline().show().canClose);
  // A circle of 2 m has 12.57 m²; 32 corners and thinning take a little.
  EXPECT_NEAR(trial.app().outline().show().area.figure.toDouble(), 12.4, 0.4);
  ASSERT_TRUE(trial.app().outline().closeOutline());
  const auto body = boost::json::parse(trial.bodies("sighting").back());
  EXPECT_EQ(body.at("geometry").at("type").as_string(), "Polygon");
  EXPECT_GE(body.at("properties").at("fixes").at("list").as_array().size(), 32u);
  EXPECT_EQ(body.at("properties").at("kind").as_string(), "bare");
  EXPECT_GT(body.at("properties").at("area_u_m2").to_number<double>(), 0.0);
  EXPECT_EQ(trial.app().shell().task(), Shell::NoTask);
  EXPECT_TRUE(trial.app().walk().show().draft.isEmpty());
  EXPECT_TRUE(trial.app().store().state().unusable.empty());
}

TEST(Outline, TooSmallForTheReceiverOffersTheTape) {
  Trial trial(Trial::Begin::withCourse);
  beginOutline(trial, Show::Bare);
  walkCircle(trial, 4, 4, 0.8, 5.0);
  EXPECT_EQ(trial.app().outline().show().advice.title, "Too small for this receiver: use the tape");
  ASSERT_TRUE(trial.app().outline().show().offerTape);
  trial.app().outline().useTape();
  EXPECT_EQ(trial.app().shell().task(), Shell::Mark);
  EXPECT_EQ(trial.app().mark().kind(), Show::Bare) << "what was entered is still there";
}

TEST(Outline, NothingIsTakenWhilePaused) {
  Trial trial(Trial::Begin::withCourse);
  beginOutline(trial, Show::Bare);
  walkCircle(trial, 4, 4, 2, 0.5, 0.5);
  const QString walked = trial.app().outline().show().walked;
  trial.app().outline().pause();
  trial.stand(20, 20, 0.5);
  EXPECT_EQ(trial.app().outline().show().walked, walked);
}

TEST(Outline, ADraftSurvivesARestartAndGoesOn) {
  Trial trial(Trial::Begin::withCourse);
  beginOutline(trial, Show::Washed);
  walkCircle(trial, 4, 4, 2, 0.5, 0.5);
  // The battery dies: nobody left the page.
  trial.restart();
  EXPECT_EQ(trial.app().walk().show().draft, "Outline of washed kept as draft, 16 steps");
  trial.app().walk().resumeDraft();
  EXPECT_EQ(trial.app().shell().task(), Shell::Outline);
  EXPECT_TRUE(trial.app().outline().show().paused);
  trial.app().outline().pause();
  for (int i = 16; i < 32; ++i) {
    const double angle = 2 * std::numbers::pi * i / 32;
    trial.stand(4 + 2 * std::cos(angle), 4 + 2 * std::sin(angle), 0.5);
  }
  ASSERT_TRUE(trial.app().outline().closeOutline());
  const auto body = boost::json::parse(trial.bodies("sighting").back());
  EXPECT_EQ(body.at("properties").at("kind").as_string(), "washed");
}

TEST(Outline, LeavingKeepsTheDraftAndForgettingDoesNot) {
  Trial trial(Trial::Begin::withCourse);
  beginOutline(trial, Show::Bare);
  walkCircle(trial, 4, 4, 2, 0.5, 0.5);
  trial.app().outline().leave();
  EXPECT_EQ(trial.app().shell().task(), Shell::NoTask);
  EXPECT_FALSE(trial.app().walk().show().draft.isEmpty());
  trial.app().walk().resumeDraft();
  trial.app().outline().forget();
  EXPECT_TRUE(trial.app().walk().show().draft.isEmpty());
}

TEST(Outline, WalkingAGreenFoundsTheCourse) {
  Trial trial(Trial::Begin::blank);
  trial.app().walk().walkGreen();
  ASSERT_EQ(trial.app().shell().task(), Shell::Outline);
  walkCircle(trial, 0, 0, 12, 1.5);
  EXPECT_FALSE(trial.app().outline().show().canClose) << "a green has a name";
  trial.app().outline().setGreenName("Hollow");
  ASSERT_TRUE(trial.app().outline().closeOutline());
  const course::CourseState& state = trial.app().store().state();
  ASSERT_EQ(state.greens.size(), 1u);
  EXPECT_EQ(state.greens.front().name, "Hollow");
  EXPECT_TRUE(trial.app().store().journal().course().has_value());
  EXPECT_TRUE(trial.app().walk().show().hasGreen);
}

TEST(OutlineDraft, ReadsBackWhatItWrote) {
  OutlineDraft draft;
  draft.sighting.patch = "p1";
  draft.sighting.label = "H1";
  draft.sighting.green = "Hollow";
  draft.sighting.kind = turf::Kind::dug;
  draft.sighting.depths_mm = {30};
  draft.newPatch = false;
  geo::Fix fix;
  fix.time = trialNow();
  fix.position = trialPlace(1, 2);
  fix.accuracy_m = 2.5;
  fix.quality = geo::FixQuality::fixed;
  draft.fixes = {fix};
  const auto back = OutlineDraft::read(draft.write());
  ASSERT_TRUE(back);
  EXPECT_EQ(back->sighting.patch, "p1");
  EXPECT_EQ(back->sighting.kind, turf::Kind::dug);
  EXPECT_EQ(back->sighting.depths_mm, draft.sighting.depths_mm);
  EXPECT_FALSE(back->newPatch);
  ASSERT_EQ(back->fixes.size(), 1u);
  EXPECT_EQ(back->fixes[0].time, fix.time);
  EXPECT_EQ(back->fixes[0].position, fix.position);
  EXPECT_EQ(back->fixes[0].quality, geo::FixQuality::fixed);
  EXPECT_FALSE(OutlineDraft::read("{}"));
}

}  // namespace
}  // namespace swardwalk::mobile
