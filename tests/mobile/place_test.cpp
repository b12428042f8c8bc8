#include "mobile/walk/place_model.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <boost/json.hpp>
#include <cmath>

#include "common/course/recorder.h"
#include "tests/mobile/trial_course.h"

namespace swardwalk::mobile {
namespace {

using testing::HasSubstr;

boost::json::object properties(const std::string& body) {
  return boost::json::parse(body).at("properties").as_object();
}

class PlaceTest : public testing::Test {
 protected:
  void SetUp() override {
    addMark("Drain lid", -10, 0);
    addMark("Sprinkler 3", 10, 0);
    addMark("Peg", 0, 12);
    trial.stand(0, -6, 3.0);
    trial.app().walk().mark();
    trial.app().mark().chooseKind(Show::Dug);
    trial.app().mark().placeBetter();
  }
  void addMark(const std::string& name, double east_m, double north_m) {
    course::Mark mark;
    mark.name = name;
    mark.position = trialPlace(east_m, north_m);
    mark.accuracy_m = 0.03;
    ASSERT_TRUE(trial.app().store().write(
        [&](course::Recorder& recorder) { return recorder.mark(mark, {}); }));
  }
  void tape(const char* mark, double distance_m) {
    trial.app().place().chooseMark(QString::fromUtf8(mark));
    trial.app().place().tape()->set(distance_m);
  }
  /// Half a minute and a little more, a fix a second.
  void standStill(double east_m, double north_m, double accuracy_m) {
    for (int second = 0; second < 36; ++second) {
      trial.wait(std::chrono::seconds(1));
      trial.stand(east_m, north_m, accuracy_m);
    }
  }
  Trial trial{Trial::Begin::withCourse};
};

TEST_F(PlaceTest, TwoTapesAreSettledByTheRoughPositionAndSavedAsRead) {
  PlaceModel& place = trial.app().place();
  EXPECT_EQ(trial.app().shell().task(), Shell::Place);
  place.chooseWay(PlaceModel::Tapes);
  EXPECT_EQ(place.show().answer, "Two marks to go");
  tape("Drain lid", std::hypot(10.0, 6.0));
  EXPECT_FALSE(place.show().canAct);
  tape("Sprinkler 3", std::hypot(10.0, 6.0));
  ASSERT_TRUE(place.show().canAct) << place.show().answer.toStdString();
  EXPECT_NE(place.show().firstSide, "");
  ASSERT_TRUE(place.act());
  EXPECT_EQ(trial.app().shell().task(), Shell::Mark);
  trial.stand(40, 40, 3.0);
  ASSERT_TRUE(trial.app().mark().save());
  const auto body = trial.bodies("sighting").back();
  const auto saved = properties(body);
  EXPECT_EQ(saved.at("tapes").as_array().size(), 2U);
  EXPECT_LT(saved.at("accuracy_m").to_number<double>(), 0.1);
  const auto& place_ = boost::json::parse(body).at("geometry").at("coordinates").as_array();
  // South of the line, where one stood: to a centimetre (9e-8 degrees), though one walked on.
  EXPECT_NEAR(place_[1].to_number<double>(), trialPlace(0, -6).latitude_deg, 9e-8);
}

TEST_F(PlaceTest, WithoutAPositionTheSideIsAsked) {
  trial.wait(std::chrono::seconds(60));
  PlaceModel& place = trial.app().place();
  place.chooseWay(PlaceModel::Tapes);
  tape("Drain lid", std::hypot(10.0, 4.0));
  tape("Sprinkler 3", std::hypot(10.0, 4.0));
  EXPECT_EQ(place.show().answer, "Which side?");
  EXPECT_FALSE(place.show().canAct);
  place.chooseSide(1);
  EXPECT_TRUE(place.show().canAct);
}

TEST_F(PlaceTest, TapesThatDoNotAgreeSayWhichOneToMeasureAgain) {
  PlaceModel& place = trial.app().place();
  place.chooseWay(PlaceModel::Tapes);
  tape("Drain lid", std::hypot(10.0, 6.0));
  tape("Sprinkler 3", std::hypot(10.0, 6.0));
  tape("Peg", 19.0);
  EXPECT_FALSE(place.show().canAct);
  EXPECT_THAT(place.show().advice.title.toStdString(), HasSubstr("do not agree"));
  tape("Peg", 18.0);
  EXPECT_TRUE(place.show().canAct);
  EXPECT_THAT(place.show().second.toStdString(), HasSubstr("The tapes agree"));
}

TEST_F(PlaceTest, StandingIsShownAsItImprovesAndKeepsItsFixes_Q2) {
  PlaceModel& place = trial.app().place();
  const QString first = place.show().answer;
  standStill(0, -6, 3.0);
  EXPECT_NE(place.show().answer, first);
  EXPECT_THAT(place.show().second.toStdString(), HasSubstr("the receiver alone ± 3.00 m"));
  ASSERT_TRUE(place.act());
  ASSERT_TRUE(trial.app().mark().save());
  const auto saved = properties(trial.bodies("sighting").back());
  EXPECT_GE(saved.at("fixes").at("list").as_array().size(), 36U);
  EXPECT_LT(saved.at("accuracy_m").to_number<double>(), 3.0);
  EXPECT_GT(saved.at("accuracy_m").to_number<double>(), 2.0) << "36 fixes are not 36 measurements";
}

TEST_F(PlaceTest, AReceiverCorrectedOnAMarkPlacesBetterForAWhile) {
  PlaceModel& place = trial.app().place();
  place.chooseWay(PlaceModel::Correct);
  place.chooseMark("Peg");
  EXPECT_FALSE(place.show().canAct);
  standStill(2.0, 12.0, 3.0);
  ASSERT_TRUE(place.show().canAct) << place.show().answer.toStdString();
  EXPECT_EQ(place.show().answer, "Off by 2.0 m");
  ASSERT_TRUE(place.act());
  trial.wait(std::chrono::seconds(5));
  trial.stand(6.0, -3.0, 3.0);
  ASSERT_TRUE(trial.app().mark().save());
  const auto body = trial.bodies("sighting").back();
  const auto saved = properties(body);
  const auto& corrected = saved.at("corrected").as_object();
  EXPECT_EQ(corrected.at("mark").as_string(), "Peg");
  EXPECT_NEAR(corrected.at("east_m").to_number<double>(), 2.0, 0.01);
  EXPECT_LT(saved.at("accuracy_m").to_number<double>(), 2.0);
  const double east_deg =
      boost::json::parse(body).at("geometry").at("coordinates").at(0).to_number<double>();
  EXPECT_LT(east_deg, trialPlace(5.0, -3.0).longitude_deg) << "most of two metres is taken off";
}

TEST_F(PlaceTest, AnotherMarkThanTheOneStoodOnIsRefused) {
  PlaceModel& place = trial.app().place();
  place.chooseWay(PlaceModel::Correct);
  place.chooseMark("Drain lid");
  standStill(10.0, 0.0, 2.0);
  EXPECT_FALSE(place.show().canAct);
  EXPECT_EQ(place.show().answer, "Not on this mark");
}

TEST_F(PlaceTest, AMarkIsTheMeanOfItsVisits) {
  PlaceModel& place = trial.app().place();
  place.chooseWay(PlaceModel::NewMark);
  standStill(5.0, 5.0, 3.0);
  EXPECT_FALSE(place.show().canAct) << "no name yet";
  place.setMarkName("Yellow peg");
  ASSERT_TRUE(place.act());
  const double once_m =
      properties(trial.bodies("mark").back()).at("accuracy_m").to_number<double>();
  trial.wait(std::chrono::hours(30));
  trial.app().mark().placeBetter();
  place.chooseWay(PlaceModel::NewMark);
  place.chooseMark("Yellow peg");
  standStill(7.0, 5.0, 3.0);
  EXPECT_EQ(place.show().second, "2 visits");
  ASSERT_TRUE(place.act());
  const auto saved = properties(trial.bodies("mark").back());
  const auto& visits = saved.at("visits").as_array();
  ASSERT_EQ(visits.size(), 2U);
  double weights = 0.0;
  for (const auto& visit : visits)
    weights += 1.0 / std::pow(visit.at("accuracy_m").to_number<double>(), 2);
  // A day apart they are two measurements.
  EXPECT_NEAR(saved.at("accuracy_m").to_number<double>(), 1.0 / std::sqrt(weights), 0.001);
  EXPECT_LT(saved.at("accuracy_m").to_number<double>(), once_m);
  EXPECT_TRUE(saved.contains("fixes"));
}

TEST_F(PlaceTest, APaceIsFoundBetweenTwoMarksAndKept) {
  PlaceModel& place = trial.app().place();
  place.chooseWay(PlaceModel::OwnPace);
  place.chooseMark("Drain lid");
  place.chooseMark("Sprinkler 3");
  place.paces()->set(25.0);
  EXPECT_THAT(place.show().answer.toStdString(), HasSubstr("0.800 ± 0.0"));
  ASSERT_TRUE(place.act());
  MarkModel& mark = trial.app().mark();
  mark.chooseWay(MarkModel::Paces);
  mark.lengthPaces()->set(5.0);
  mark.widthPaces()->set(2.5);
  ASSERT_TRUE(mark.save());
  const auto saved = properties(trial.bodies("sighting").back());
  EXPECT_EQ(saved.at("length_paces").to_number<double>(), 5.0);
  EXPECT_NEAR(saved.at("pace_m").to_number<double>(), 0.8, 0.001);
  EXPECT_NEAR(saved.at("length_m").to_number<double>(), 4.0, 0.005);
}

TEST_F(PlaceTest, BackChangesNothing) {
  PlaceModel& place = trial.app().place();
  standStill(0, -6, 3.0);
  place.back();
  ASSERT_TRUE(trial.app().mark().save());
  EXPECT_FALSE(properties(trial.bodies("sighting").back()).contains("fixes"));
}

TEST(Units, ImperialIsKeptAndShownInAnswers) {
  Options options;
  options.imperial = true;
  Trial trial(Trial::Begin::withCourse, options);
  trial.stand(4, 5);
  trial.app().walk().mark();
  MarkModel& mark = trial.app().mark();
  mark.chooseKind(Show::Dug);
  mark.length()->set(0.6);
  mark.width()->set(0.5);
  EXPECT_EQ(mark.show().area.unit, "ft²");
  trial.app().shell().setImperial(false);
  mark.length()->set(0.7);
  EXPECT_EQ(mark.show().area.unit, "m²");
}

}  // namespace
}  // namespace swardwalk::mobile
