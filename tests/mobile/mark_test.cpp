#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <boost/json.hpp>

#include "common/course/state.h"
#include "tests/mobile/trial_course.h"

namespace swardwalk::mobile {
namespace {

using testing::HasSubstr;

boost::json::object properties(const std::string& body) {
  return boost::json::parse(body).at("properties").as_object();
}

TEST(Mark, KindAndSaveAreAWholeSightingWithoutASize) {
  Trial trial(Trial::Begin::withCourse);
  trial.stand(4, 5);
  const auto before = trial.bodies("sighting").size();
  trial.app().walk().mark();
  trial.app().mark().chooseKind(Show::Dug);
  ASSERT_TRUE(trial.app().mark().save());
  const auto bodies = trial.bodies("sighting");
  ASSERT_EQ(bodies.size(), before + 1);
  const auto saved = properties(bodies.back());
  EXPECT_EQ(saved.at("kind").as_string(), "dug");
  EXPECT_EQ(saved.at("green").as_string(), "Hollow");
  EXPECT_FALSE(saved.contains("author"));  // it can be erased: it stands in Ansa's own record
  EXPECT_EQ(properties(trial.bodies("person").back()).at("name").as_string(), "Ansa");
  EXPECT_EQ(saved.at("device").as_string(), "Tablet b");
  EXPECT_FALSE(saved.contains("length_m"));
  EXPECT_FALSE(saved.contains("area_m2"));
  EXPECT_EQ(saved.at("label").as_string(), "H11");
  EXPECT_EQ(trial.app().walk().show().saved, "Hollow 11 saved 06:40");
}

TEST(Mark, TheTabletsLetterStandsInTheLabel) {
  Options options;
  options.letter = "b";
  Trial trial(Trial::Begin::withCourse, options);
  trial.app().walk().mark();
  trial.app().mark().chooseKind(Show::Bare);
  ASSERT_TRUE(trial.app().mark().save());
  EXPECT_EQ(properties(trial.bodies("sighting").back()).at("label").as_string(), "H11b");
}

TEST(Mark, NothingCanBeSavedWithoutAKind) {
  Trial trial(Trial::Begin::withCourse);
  trial.app().walk().mark();
  EXPECT_FALSE(trial.app().mark().show().canSave);
  EXPECT_FALSE(trial.app().mark().save());
}

TEST(Mark, SizeIsSavedAsItWasEnteredAndItsAreaIsShownWithItsDoubt) {
  Trial trial(Trial::Begin::withCourse);
  trial.stand(4, 5);
  trial.app().walk().mark();
  MarkModel& mark = trial.app().mark();
  mark.chooseKind(Show::Dug);
  mark.length()->set(0.52);
  EXPECT_FALSE(mark.show().canSave) << "half a size is none";
  mark.width()->set(0.44);
  // pi/4 x 0.52 x 0.44 = 0.1797; each dimension is uncertain by sqrt(2) x 0.02 m.
  EXPECT_EQ(mark.show().area.text(), "0.180 ± 0.015 m²");
  mark.chooseForm(MarkModel::Rectangle);
  EXPECT_EQ(mark.show().area.figure, "0.229");
  ASSERT_TRUE(mark.save());
  const auto saved = properties(trial.bodies("sighting").back());
  EXPECT_DOUBLE_EQ(saved.at("length_m").to_number<double>(), 0.52);
  EXPECT_DOUBLE_EQ(saved.at("width_m").to_number<double>(), 0.44);
  EXPECT_EQ(saved.at("shape").as_string(), "rectangle");
}

TEST(Mark, PositionIsTheWalkersWithItsAccuracy) {
  Trial trial(Trial::Begin::withCourse);
  trial.stand(4, 5, 1.5);
  trial.app().walk().mark();
  trial.app().mark().chooseKind(Show::Bare);
  ASSERT_TRUE(trial.app().mark().save());
  const auto body = boost::json::parse(trial.bodies("sighting").back());
  const auto& place = body.at("geometry").at("coordinates").as_array();
  EXPECT_NEAR(place[0].to_number<double>(), trialPlace(4, 5).longitude_deg, 1e-9);
  EXPECT_NEAR(place[1].to_number<double>(), trialPlace(4, 5).latitude_deg, 1e-9);
  EXPECT_DOUBLE_EQ(body.at("properties").at("accuracy_m").to_number<double>(), 1.5);
}

TEST(Mark, WithoutAPositionTheTappedPlaceIsKept) {
  Trial trial(Trial::Begin::withCourse);
  trial.app().walk().tapPlace(3, -2, 0.4);
  trial.app().walk().mark();
  trial.app().mark().chooseKind(Show::Bare);
  ASSERT_TRUE(trial.app().mark().save());
  const auto body = boost::json::parse(trial.bodies("sighting").back());
  EXPECT_EQ(body.at("geometry").at("type").as_string(), "Point");
  EXPECT_DOUBLE_EQ(body.at("properties").at("accuracy_m").to_number<double>(), 0.4);
}

TEST(Mark, WithoutAnyPlaceItLiesSomewhereOnItsGreen) {
  Trial trial(Trial::Begin::withCourse);
  trial.app().walk().mark();
  trial.app().mark().chooseKind(Show::Washed);
  EXPECT_EQ(trial.app().mark().show().same.title, "No place yet.");
  ASSERT_TRUE(trial.app().mark().save());
  const auto body = boost::json::parse(trial.bodies("sighting").back());
  EXPECT_EQ(body.at("properties").at("green").as_string(), "Hollow");
  // Hollow has about 430 m2: a disc of 11.7 m, and anywhere on it is uncertain by half that.
  EXPECT_NEAR(body.at("properties").at("accuracy_m").to_number<double>(), 5.9, 0.3);
  EXPECT_TRUE(trial.app().store().state().unusable.empty());
}

TEST(Mark, APositionTooOldIsNotBelieved) {
  Trial trial(Trial::Begin::withCourse);
  trial.stand(4, 5);
  trial.wait(std::chrono::seconds(30));
  trial.app().walk().mark();
  trial.app().mark().chooseKind(Show::Bare);
  ASSERT_TRUE(trial.app().mark().save());
  EXPECT_GT(boost::json::parse(trial.bodies("sighting").back())
                .at("properties")
                .at("accuracy_m")
                .to_number<double>(),
            5.0)
      << "somewhere on the green, not where one stood half a minute ago";
}

TEST(Mark, FarFromAllOthersOfItsKindItIsNew) {
  Trial trial(Trial::Begin::withCourse);
  trial.stand(10, 2, 1.0);
  trial.app().walk().mark();
  trial.app().mark().chooseKind(Show::Dug);
  EXPECT_EQ(trial.app().mark().show().same.title, "A new patch.");
  EXPECT_THAT(trial.app().mark().show().same.reason.toStdString(),
              HasSubstr("Hollow 5, is 10 m away: too far to be the same."));
  EXPECT_FALSE(trial.app().mark().show().canBeSame);
}

TEST(Mark, NearOneOfItsKindItCanBeTakenForThat) {
  Trial trial(Trial::Begin::withCourse);
  trial.stand(1, 2.5, 1.5);
  trial.app().walk().mark();
  MarkModel& mark = trial.app().mark();
  mark.chooseKind(Show::Dug);
  ASSERT_TRUE(mark.show().canBeSame);
  EXPECT_EQ(mark.show().sameButton, "It is Hollow 5");
  mark.takeSame();
  ASSERT_TRUE(mark.save());
  EXPECT_EQ(properties(trial.bodies("sighting").back()).at("patch").as_string(), "p5");
}

TEST(Mark, MeasuringAgainKeepsPatchKindAndLabel) {
  Trial trial(Trial::Begin::withCourse);
  trial.app().patch().open("p7");
  trial.app().patch().measureAgain();
  EXPECT_EQ(trial.app().shell().task(), Shell::Mark);
  MarkModel& mark = trial.app().mark();
  EXPECT_EQ(mark.show().title, "Measure Hollow 7");
  EXPECT_EQ(mark.kind(), Show::Washed);
  ASSERT_TRUE(mark.save());
  const auto saved = properties(trial.bodies("sighting").back());
  EXPECT_EQ(saved.at("patch").as_string(), "p7");
  EXPECT_EQ(saved.at("label").as_string(), "H7");
  EXPECT_EQ(trial.app().shell().task(), Shell::NoTask);
}

TEST(Mark, DepthAndNoteTravelWithTheSighting) {
  Trial trial(Trial::Begin::withCourse);
  trial.app().walk().mark();
  MarkModel& mark = trial.app().mark();
  mark.chooseKind(Show::Washed);
  mark.depths()->reading()->set(30);
  mark.depths()->add();
  mark.setNote("below the bunker ");
  ASSERT_TRUE(mark.save());
  const auto saved = properties(trial.bodies("sighting").back());
  EXPECT_EQ(saved.at("note").as_string(), "below the bunker");
  EXPECT_EQ(saved.at("depth_mm").to_number<double>(), 30);
}

TEST(Mark, SeveralDepthsTravelAndTheirMeanIsShown) {
  Trial trial(Trial::Begin::withCourse);
  trial.app().walk().mark();
  MarkModel& mark = trial.app().mark();
  mark.chooseKind(Show::Washed);
  for (const double depth_mm : {30.0, 50.0, 40.0}) {
    mark.depths()->reading()->set(depth_mm);
    mark.depths()->add();
  }
  // Mean 40; scatter 10 / sqrt(3) = 5.8, and 2 mm of reading / sqrt(3).
  EXPECT_EQ(mark.show().depth, "Depth 40 ± 6 mm");
  mark.chooseKind(Show::Dug);
  EXPECT_EQ(mark.show().depth, "Depth 50.0 ± 2.0 mm") << "a bowl is told by its deepest";
  mark.depths()->takeOut(1);
  ASSERT_TRUE(mark.save());
  const auto depths = properties(trial.bodies("sighting").back()).at("depth_mm").as_array();
  ASSERT_EQ(depths.size(), 2u);
  EXPECT_EQ(depths[0].to_number<double>(), 30);
  EXPECT_EQ(depths[1].to_number<double>(), 40);
}

TEST(Mark, TheBareShareOfAnOutlineCountsWithItsDoubtByEye) {
  Trial trial(Trial::Begin::withCourse);
  trial.stand(4, 5);
  trial.app().walk().mark();
  MarkModel& mark = trial.app().mark();
  mark.chooseKind(Show::Bare);
  mark.length()->set(0.52);
  mark.width()->set(0.44);
  mark.bareShare()->set(40);
  EXPECT_EQ(mark.show().share, "40 % bare");
  // 0.4 x 0.1797, its doubt sqrt((0.1/0.4)^2 + (0.0147/0.1797)^2) of it.
  EXPECT_EQ(mark.show().area.text(), "0.072 ± 0.019 m²");
  mark.chooseWay(MarkModel::Frame);
  EXPECT_EQ(mark.show().share, "") << "a frame counts the share itself";
  mark.chooseWay(MarkModel::Tape);
  const std::string patch = "Hollow 11";
  ASSERT_TRUE(mark.save());
  const auto saved = properties(trial.bodies("sighting").back());
  EXPECT_DOUBLE_EQ(saved.at("bare_share").to_number<double>(), 0.4);
  EXPECT_DOUBLE_EQ(saved.at("bare_share_u").to_number<double>(), 0.1);
  for (const auto& progress : trial.app().store().progress().patches) {
    if (progress.heading == patch) {
      EXPECT_EQ(progress.area.text(), "0.072 ± 0.019 m²");
    }
  }
}

TEST(Mark, AllBareIsNoShare) {
  Trial trial(Trial::Begin::withCourse);
  trial.app().walk().mark();
  MarkModel& mark = trial.app().mark();
  mark.chooseKind(Show::Bare);
  mark.length()->set(0.52);
  mark.width()->set(0.44);
  mark.bareShare()->set(100);
  EXPECT_EQ(mark.show().area.text(), "0.180 ± 0.015 m²");
  ASSERT_TRUE(mark.save());
  EXPECT_FALSE(properties(trial.bodies("sighting").back()).contains("bare_share"));
}

TEST(Mark, AFrameIsCounted) {
  Trial trial(Trial::Begin::withCourse);
  trial.app().walk().mark();
  MarkModel& mark = trial.app().mark();
  mark.chooseKind(Show::Bare);
  mark.chooseWay(MarkModel::Frame);
  mark.squaresBare()->set(40);
  EXPECT_EQ(mark.show().area.figure, "0.100") << "40 of 100 squares of 0.25 m²";
  ASSERT_TRUE(mark.save());
  const auto saved = properties(trial.bodies("sighting").back());
  EXPECT_EQ(saved.at("squares_bare").to_number<int>(), 40);
  EXPECT_DOUBLE_EQ(saved.at("frame_m2").to_number<double>(), 0.25);
}

TEST(Mark, UndoTakesTheSightingOutOfTheState) {
  Trial trial(Trial::Begin::withCourse);
  trial.app().walk().mark();
  trial.app().mark().chooseKind(Show::Bare);
  ASSERT_TRUE(trial.app().mark().save());
  const auto patches = trial.app().store().state().patches.size();
  ASSERT_TRUE(trial.app().walk().show().canUndo);
  trial.app().walk().undo();
  EXPECT_EQ(trial.app().store().state().patches.size(), patches - 1);
  EXPECT_EQ(trial.app().walk().show().saved, "Hollow 11 taken back");
  EXPECT_FALSE(trial.app().walk().show().canUndo);
}

TEST(Mark, WhatWasSavedIsThereAfterARestart) {
  Trial trial(Trial::Begin::withCourse);
  trial.stand(4, 5);
  trial.app().walk().mark();
  trial.app().mark().chooseKind(Show::Hungry);
  ASSERT_TRUE(trial.app().mark().save());
  const auto patches = trial.app().store().state().patches.size();
  trial.restart();
  EXPECT_EQ(trial.app().store().state().patches.size(), patches);
}

}  // namespace
}  // namespace swardwalk::mobile
