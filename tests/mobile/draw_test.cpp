#include "mobile/walk/draw_model.h"

#include <gtest/gtest.h>

#include <boost/json.hpp>

#include "tests/mobile/trial_course.h"

namespace swardwalk::mobile {
namespace {

boost::json::value bodyOfLast(Trial& trial) {
  return boost::json::parse(trial.bodies("sighting").back());
}

class DrawTest : public testing::Test {
 protected:
  void SetUp() override {
    trial.stand(4, 5);
    trial.app().walk().mark();
    trial.app().mark().chooseKind(Show::Bare);
    trial.app().mark().drawOutline();
  }
  void square(double side_m, double doubt_m) {
    DrawModel& draw = trial.app().draw();
    draw.addCorner(4, 5, doubt_m);
    draw.addCorner(4 + side_m, 5, doubt_m);
    draw.addCorner(4 + side_m, 5 + side_m, doubt_m);
    draw.addCorner(4, 5 + side_m, doubt_m);
  }
  Trial trial{Trial::Begin::withCourse};
};

TEST_F(DrawTest, CornersAndTheirDoubtAreSavedBesideTheArea) {
  EXPECT_EQ(trial.app().shell().task(), Shell::Draw);
  square(2.0, 0.1);
  EXPECT_EQ(trial.app().draw().show().area.figure, "4.00");
  ASSERT_TRUE(trial.app().draw().save());
  const auto body = bodyOfLast(trial);
  EXPECT_EQ(body.at("geometry").at("type").as_string(), "Polygon");
  const auto& properties = body.at("properties").as_object();
  EXPECT_EQ(properties.at("corners_u_m").as_array().size(), 4u);
  EXPECT_NEAR(properties.at("area_m2").to_number<double>(), 4.0, 1e-9);
  // Fingers alone give sqrt(4 x 0.01 x 8 / 4 + 2 x 0.0001) = 0.283; the edge comes on top.
  EXPECT_GT(properties.at("area_u_m2").to_number<double>(), 0.283);
  EXPECT_LT(properties.at("area_u_m2").to_number<double>(), 0.31);
  EXPECT_DOUBLE_EQ(properties.at("accuracy_m").to_number<double>(), 0.1);
  EXPECT_EQ(trial.app().shell().task(), Shell::NoTask);
}

TEST_F(DrawTest, ALineThatCrossesItselfIsNotSaved) {
  DrawModel& draw = trial.app().draw();
  draw.addCorner(0, 0, 0.1);
  draw.addCorner(2, 2, 0.1);
  draw.addCorner(2, 0, 0.1);
  draw.addCorner(0, 2, 0.1);
  EXPECT_FALSE(draw.save());
  EXPECT_EQ(draw.show().advice.title, "The line crosses itself");
  draw.stepBack();
  EXPECT_TRUE(draw.show().canSave);
}

TEST_F(DrawTest, APatchTooSmallForTheFingerSaysSo) {
  square(0.3, 0.2);
  EXPECT_EQ(trial.app().draw().show().advice.title, "Too small for a finger at this scale");
}

TEST_F(DrawTest, BackGoesToTheSightingAndSavesNothing) {
  const auto before = trial.bodies("sighting").size();
  square(2.0, 0.1);
  trial.app().draw().back();
  EXPECT_EQ(trial.app().shell().task(), Shell::Mark);
  EXPECT_EQ(trial.bodies("sighting").size(), before);
}

}  // namespace
}  // namespace swardwalk::mobile
