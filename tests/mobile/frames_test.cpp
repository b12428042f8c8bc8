#include "mobile/walk/frames_model.h"

#include <gtest/gtest.h>

#include <boost/json.hpp>

#include "tests/mobile/trial_course.h"

namespace swardwalk::mobile {
namespace {

class FramesTest : public testing::Test {
 protected:
  void SetUp() override { trial.app().walk().countFrames(); }
  bool throwFrame(int bare) {
    trial.app().frames().squaresBare()->set(bare);
    return trial.app().frames().count();
  }
  Trial trial{Trial::Begin::withCourse};
};

TEST_F(FramesTest, EachFrameIsARecordOfItsOwnWithWhereItLay) {
  trial.stand(4, 5);
  ASSERT_TRUE(throwFrame(12));
  const auto body = boost::json::parse(trial.bodies("frame").back());
  EXPECT_EQ(body.at("geometry").at("type").as_string(), "Point");
  EXPECT_EQ(body.at("properties").at("green").as_string(), "Hollow");
  EXPECT_EQ(body.at("properties").at("squares_bare").to_number<int>(), 12);
  EXPECT_EQ(body.at("properties").at("squares").to_number<int>(), 100);
}

TEST_F(FramesTest, OneFrameHasNoDoubtAndTwoHaveTheirScatter) {
  ASSERT_TRUE(throwFrame(10));
  EXPECT_EQ(trial.app().frames().show().share.doubt, "");
  EXPECT_EQ(trial.app().frames().show().advice.title, "One frame has no ±");
  ASSERT_TRUE(throwFrame(20));
  // Mean 15 %; clusters of 10 and 20 scatter by 7.07 / sqrt(2) = 5.
  EXPECT_EQ(trial.app().frames().show().share.text(), "15 ± 5 %");
}

TEST_F(FramesTest, MoreBareThanAllIsRefused) {
  trial.app().frames().squares()->set(20);
  EXPECT_FALSE(throwFrame(21));
  EXPECT_EQ(trial.app().frames().show().advice.title, "More bare squares than squares");
}

TEST_F(FramesTest, TheLastIsTakenBack) {
  ASSERT_TRUE(throwFrame(10));
  ASSERT_TRUE(throwFrame(90));
  trial.app().frames().takeBack();
  EXPECT_EQ(trial.app().frames().show().share.figure, "10.0");
  EXPECT_EQ(trial.app().store().state().frames.size(), 1u);
}

}  // namespace
}  // namespace swardwalk::mobile
