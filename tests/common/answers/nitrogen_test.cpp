#include "common/answers/nitrogen.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/common/answers/small_course.h"

namespace swardwalk::answers {
namespace {

using test::CourseBuilder;
using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::StartsWith;

/// North, 500 m2 of creeping bentgrass being grown in, in dry weather.
struct Fed {
  Fed() {
    course.shed();
    course.temperature("2027-01-01", "2027-04-20", 12.0);
  }
  course::Feeding& feeding(std::string_view on, double rate_g_m2, std::string feed = "Starter") {
    course::Feeding& one = course.state.feedings.emplace_back();
    one.green = "North";
    one.done = test::at(on);
    one.feed = std::move(feed);
    one.rate_g_m2 = rate_g_m2;
    return one;
  }
  void cut(std::string_view on, double clippings_l, bool wet = false) {
    course::Mowing& one = course.state.mowings.emplace_back();
    one.green = "North";
    one.done = test::at(on);
    one.clippings_l = clippings_l;
    one.wet = wet;
  }
  GreenNitrogen north(std::string_view on = "2027-04-12") const {
    const auto greens = nitrogenOfGreens(course.state, Stock(course.state), course.progress(on),
                                         measure::UnitSystem::metric);
    EXPECT_EQ(greens.size(), 1U);
    return greens.empty() ? GreenNitrogen{} : greens.front();
  }

  CourseBuilder course;
};

TEST(Nitrogen, OfAGreenThatNobodyFedIsNotSpokenOf) {
  Fed fed;
  EXPECT_THAT(nitrogenOfGreens(fed.course.state, Stock(fed.course.state),
                               fed.course.progress("2027-04-12"), measure::UnitSystem::metric),
              IsEmpty());
}

TEST(Nitrogen, ComesFromRateAndAnalysis) {
  // Common practice, no source: 10 kg of a feed with 4 % on 500 m2 are 0.8 g/m2.
  Fed fed;
  fed.course.feed("Weak", 4.0);
  course::Feeding& feeding = fed.feeding("2027-04-10", 0.0, "Weak");
  feeding.rate_g_m2.reset();
  feeding.product_kg = 10.0;
  const GreenNitrogen north = fed.north();
  EXPECT_NEAR(*north.given_g_m2, 0.8, 1e-4) << "the green is 500 m2 on the plane";
  EXPECT_NEAR(north.left_g_m2->value, 0.8, 1e-4) << "no rain, no clippings";
  EXPECT_THAT(north.text, StartsWith("In 30 days 0.800 g/m² of nitrogen given"));
}

TEST(Nitrogen, RainWashesItDownAndClippingsTakeItOff) {
  Fed fed;
  fed.feeding("2027-04-01", 25.0);
  fed.course.rain("2027-04-03", 60.0);
  fed.cut("2027-04-05", 60.0);
  const GreenNitrogen north = fed.north();
  EXPECT_GT(*north.drained_mm, 45.0);
  EXPECT_LT(*north.drained_mm, 60.0) << "less what the grass gave off";
  EXPECT_GT(*north.washed_g_m2, 0.9);
  EXPECT_NEAR(*north.clipped_g_m2, 0.288, 1e-3);
  EXPECT_NEAR(*north.given_g_m2, *north.washed_g_m2 + *north.clipped_g_m2 + north.left_g_m2->value,
              1e-9);
}

TEST(Nitrogen, WarnsOverAndUnderWhatTheStageTakesAndNeverCaps) {
  Fed little;
  little.feeding("2027-04-01", 10.0);
  EXPECT_THAT(little.north().warnings,
              ElementsAre(StartsWith("only 0.600 g/m² of nitrogen in 30 days; a grow-in takes")));
  little.course.state.course.stage = course::Stage::mature;
  EXPECT_THAT(little.north().warnings,
              ElementsAre(HasSubstr("a mature green takes 1.5 g/m² to 4.9 g/m²")));

  Fed much;
  for (const char* on : {"2027-03-20", "2027-03-24", "2027-03-28", "2027-04-01", "2027-04-05",
                         "2027-04-08", "2027-04-10", "2027-04-11", "2027-04-12"}) {
    much.feeding(on, 25.0);
  }
  EXPECT_THAT(much.north().warnings, IsEmpty()) << "13.5 g/m2 in a grow-in";
  much.feeding("2027-04-09", 25.0);
  much.feeding("2027-04-07", 25.0);
  EXPECT_THAT(much.north().warnings, ElementsAre(HasSubstr("is more than the 15 g/m²")));
  EXPECT_NEAR(*much.north().given_g_m2, 16.5, 1e-9);
}

TEST(Nitrogen, WarnsOfMoreAtOnceThanSandHolds) {
  Fed fed;
  fed.feeding("2027-04-10", 100.0);
  EXPECT_THAT(fed.north().warnings,
              ElementsAre(HasSubstr("6.00 g/m² of soluble nitrogen at once on 10 April")));
  fed.course.state.feeds.back().solubleNitrogenShare = 0.2;
  EXPECT_THAT(fed.north().warnings, IsEmpty());
}

TEST(Nitrogen, WithoutAnAnalysisIsUnknownAndNeverNothing) {
  Fed fed;
  fed.course.feed("Bag without a label", std::nullopt);
  fed.feeding("2027-04-10", 20.0, "Bag without a label");
  const GreenNitrogen north = fed.north();
  EXPECT_FALSE(north.given_g_m2);
  EXPECT_FALSE(north.left_g_m2);
  EXPECT_THAT(
      north.warnings,
      ElementsAre("nitrogen unknown: no analysis of Bag without a label, given on 10 April"));
}

TEST(Nitrogen, AHungryGreenIsAskedAboutOtherCausesFirst) {
  Fed fed;
  fed.course.seen(fed.course.patch("N2"), "2027-04-11", turf::Kind::hungry, 3.0, 2.0);
  const GreenNitrogen never = fed.north();
  ASSERT_EQ(never.hungry.size(), 2U);
  EXPECT_THAT(never.hungry[0], StartsWith("Before feeding ask"));
  EXPECT_EQ(never.hungry[1], "No feeding was recorded in 120 days.");

  fed.feeding("2027-04-01", 10.0);
  EXPECT_THAT(fed.north().hungry, Contains(HasSubstr("hunger is likely")));
  fed.feeding("2027-04-10", 10.0);
  EXPECT_THAT(fed.north().hungry, Contains(HasSubstr("look for another cause first")));
}

TEST(Nitrogen, AnUnderfedGreenIsToldWhatOneFeedingTakes) {
  // 0.7 g/m2 of nitrogen from 6 % on 500 m2 are 5.83 kg.
  Fed fed;
  fed.feeding("2027-04-01", 10.0);
  EXPECT_NEAR(*fed.north().feeding_kg, 0.7 / 0.06 * 500.0 / 1000.0, 1e-3);
  EXPECT_EQ(fed.north().feeding,
            "One feeding of the whole green is 5.83 kg of Starter: 0.700 g/m² of nitrogen.");

  fed.feeding("2027-04-06", 10.0);
  EXPECT_FALSE(fed.north().feeding_kg) << "fed six days ago: it does not show yet";
  EXPECT_TRUE(fed.north("2027-04-13").feeding_kg) << "it shows after seven";
  fed.course.state.feeds.front().labelRate_g_m2 = 5.0;
  EXPECT_NEAR(*fed.north("2027-04-13").feeding_kg, 2.5, 1e-3) << "the label's rate is the most";
  fed.course.state.feeds.clear();
  EXPECT_FALSE(fed.north("2027-04-13").feeding_kg);
}

TEST(Nitrogen, AGreenThatHadEnoughIsNotFedMore) {
  Fed fed;
  fed.course.seen(fed.course.patch("N2"), "2027-04-11", turf::Kind::hungry, 3.0, 2.0);
  EXPECT_TRUE(fed.north().feeding_kg) << "off colour and never fed";
  for (const char* on : {"2027-03-16", "2027-03-20", "2027-03-24", "2027-03-28", "2027-04-01"}) {
    fed.feeding(on, 60.0);
  }
  fed.course.rain("2027-04-03", 400.0);
  fed.course.rain("2027-04-04", 400.0);
  ASSERT_GT(*fed.north().given_g_m2, 15.0);
  ASSERT_LT(fed.north().left_g_m2->value, 0.7);
  EXPECT_FALSE(fed.north().feeding_kg) << "more than a grow-in takes was given";
}

TEST(Nitrogen, FewerClippingsAreASignAndWetCutsAreNotCompared) {
  Fed fed;
  fed.course.seen(fed.course.patch("N2"), "2027-04-11", turf::Kind::hungry, 3.0, 2.0);
  for (const char* on : {"2027-04-01", "2027-04-02", "2027-04-03"}) fed.cut(on, 6.0);
  for (const char* on : {"2027-04-04", "2027-04-05"}) fed.cut(on, 4.0);
  fed.cut("2027-04-06", 1.0, true);
  EXPECT_THAT(fed.north().hungry, testing::Not(Contains(HasSubstr("Clippings fell"))));
  fed.cut("2027-04-07", 4.0);
  EXPECT_THAT(fed.north().hungry,
              Contains("Clippings fell from 12 to 8 mL/m² over the last dry cuts."));
}

}  // namespace
}  // namespace swardwalk::answers
