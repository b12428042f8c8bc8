#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <boost/json.hpp>

#include "common/answers/json_text.h"
#include "common/answers/text_table.h"
#include "tests/common/answers/golden.h"
#include "tests/common/answers/small_course.h"

namespace swardwalk::answers {
namespace {

namespace json = boost::json;
using test::CourseBuilder;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

constexpr std::string_view day = "2027-04-12";

std::vector<std::string> keys(const json::value& value) {
  std::vector<std::string> names;
  for (const auto& [key, member] : value.as_object()) names.emplace_back(key);
  return names;
}

std::string progressJsonOf(const CourseBuilder& course) {
  return progressJson(course.progress(day), course::zoneOf(course.state));
}

TEST(ProgressJson, HasTheContractsKeys) {
  const json::value answer = json::parse(progressJsonOf(test::stormyCourse()));
  EXPECT_THAT(keys(answer), ElementsAre("on", "patches", "greens", "incomplete"));
  for (const json::value& patch : answer.at("patches").as_array()) {
    EXPECT_THAT(keys(patch),
                ElementsAre("patch", "label", "green", "kind", "chapter", "sightings", "last_seen",
                            "area_m2", "area_u_m2", "model", "edge_creep_mm_per_day",
                            "edge_creep_u_mm_per_day", "share_closed", "closes_on",
                            "closes_earliest", "closes_latest", "puttable_on", "verdict", "why"));
  }
  for (const json::value& green : answer.at("greens").as_array()) {
    EXPECT_THAT(keys(green),
                ElementsAre("green", "area_m2", "bare_m2", "bare_u_m2", "bare_share",
                            "bare_share_u", "opening_day", "probability_ready", "open_patches",
                            "thin_share", "thin_share_u", "look_next"));
  }
}

TEST(PlanJson, HasTheContractsKeys) {
  const json::value answer = json::parse(planJson(test::stormyCourse().plan(day)));
  EXPECT_THAT(keys(answer), ElementsAre("on", "patches", "totals", "order", "work", "loads",
                                        "nitrogen", "cautions", "incomplete"));
  ASSERT_FALSE(answer.at("patches").as_array().empty());
  for (const json::value& patch : answer.at("patches").as_array()) {
    EXPECT_THAT(keys(patch),
                ElementsAre("patch", "label", "green", "kind", "choice", "chosen_by", "reason",
                            "options", "seed_lot", "seed_g", "seed_u_g", "fill", "fill_l",
                            "fill_u_l", "fill_kg", "feed", "feed_g", "nitrogen_g_m2",
                            "phosphorus_g_m2", "potassium_g_m2", "turf_m2", "turf_pieces", "who",
                            "sowing_state", "sand_lying_l", "tasks", "warnings"));
    for (const json::value& option : patch.at("options").as_array()) {
      EXPECT_THAT(keys(option),
                  ElementsAre("choice", "closes_on", "puttable_on", "probability_ready", "text"));
    }
  }
  ASSERT_FALSE(answer.at("totals").as_array().empty());
  for (const json::value& total : answer.at("totals").as_array()) {
    EXPECT_THAT(keys(total), ElementsAre("green", "material", "amount_kg", "amount_u_kg"));
  }
  ASSERT_FALSE(answer.at("order").as_array().empty());
  for (const json::value& line : answer.at("order").as_array()) {
    EXPECT_THAT(keys(line), ElementsAre("material", "needed_kg", "in_stock_kg", "used_kg", "packs",
                                        "left_over_kg"));
    for (const json::value& pack : line.at("packs").as_array()) {
      EXPECT_THAT(keys(pack), ElementsAre("pack_kg", "count"));
    }
  }
  ASSERT_FALSE(answer.at("cautions").as_array().empty());
  for (const json::value& caution : answer.at("cautions").as_array()) {
    EXPECT_THAT(keys(caution), ElementsAre("about", "text", "source"));
  }
}

TEST(ProgressJson, OfAnEmptyCourseIsWhole) {
  CourseBuilder course;
  course.state = {};
  EXPECT_EQ(progressJsonOf(course),
            "{\"on\": \"2027-04-12\",\n \"patches\": [],\n \"greens\": [],\n "
            "\"incomplete\": false}\n");
}

TEST(ProgressJson, WhatNobodyKnowsIsNull) {
  CourseBuilder course;
  course.seen(course.patch("N1", course::Zone::green, ""), "2027-04-11", turf::Kind::bare);
  const json::value patch = json::parse(progressJsonOf(course)).at("patches").at(0);
  for (const char* key : {"green", "area_m2", "area_u_m2", "share_closed", "closes_on",
                          "edge_creep_mm_per_day", "puttable_on"}) {
    EXPECT_TRUE(patch.at(key).is_null()) << key;
  }
  EXPECT_EQ(patch.at("model"), "none");
  EXPECT_EQ(patch.at("verdict"), "cannot say yet");
  EXPECT_EQ(patch.at("last_seen"), "2027-04-11T07:30:00+01:00");
}

TEST(Json, ANumberThatIsNoneIsNull) {
  EXPECT_TRUE(number(std::nan("")).is_null());
  EXPECT_TRUE(number(std::optional(INFINITY)).is_null());
}

TEST(Json, NumbersArePlainAndShortest) {
  const json::value value = json::array{0.1, 1.84, 1e-7, 1e21, -0.0, 55.0, 3};
  EXPECT_EQ(writeJson(value), "[0.1, 1.84, 0.0000001, 1000000000000000000000, 0, 55, 3]\n");
}

TEST(Json, KeysAndTextsAreEscaped) {
  EXPECT_EQ(writeJson(json::object{{"a\"b", "line\nfeed"}}), "{\"a\\\"b\": \"line\\nfeed\"}\n");
}

TEST(Golden, Progress) {
  test::expectGolden("progress.json", progressJsonOf(test::stormyCourse()));
}

TEST(Golden, Plan) { test::expectGolden("plan.json", planJson(test::stormyCourse().plan(day))); }

TEST(Golden, ProgressText) {
  test::expectGolden("progress.txt", progressText(test::stormyCourse().progress(day)));
}

TEST(Golden, PlanText) { test::expectGolden("plan.txt", planText(test::stormyCourse().plan(day))); }

TEST(Golden, ProgressCsv) {
  const CourseBuilder course = test::stormyCourse();
  test::expectGolden("progress.csv",
                     progressCsv(course.progress(day), course::zoneOf(course.state)));
}

TEST(Golden, PlanCsv) { test::expectGolden("plan.csv", planCsv(test::stormyCourse().plan(day))); }

TEST(Csv, QuotesWhatNeedsIt) {
  EXPECT_EQ(csvRecord({"a", "b,c", "say \"no\"", "two\nlines", ""}),
            "a,\"b,c\",\"say \"\"no\"\"\",\"two\nlines\",\r\n");
}

TEST(Csv, HasAFieldForEveryHeading) {
  const CourseBuilder course = test::stormyCourse();
  const std::string csv = planCsv(course.plan(day));
  const auto fields = [](std::string_view record) {
    int n = 1;
    bool quoted = false;
    for (const char c : record) {
      if (c == '"') quoted = !quoted;
      if (c == ',' && !quoted) ++n;
    }
    return n;
  };
  std::string_view rest = csv;
  const int headings = fields(rest.substr(0, rest.find("\r\n")));
  while (!rest.empty()) {
    const std::size_t end = rest.find("\r\n");
    ASSERT_NE(end, std::string_view::npos);
    EXPECT_EQ(fields(rest.substr(0, end)), headings);
    rest.remove_prefix(end + 2);
  }
}

TEST(Text, NoLineEndsWithABlank) {
  const CourseBuilder course = test::stormyCourse();
  for (const std::string& text : {progressText(course.progress(day)), planText(course.plan(day))}) {
    EXPECT_THAT(text, Not(HasSubstr(" \n")));
    EXPECT_THAT(text, Not(HasSubstr("nan")));
    EXPECT_TRUE(text.ends_with("\n"));
  }
}

TEST(Text, FiguresStandUnderEachOther) {
  TextTable table;
  table.words("Patch");
  table.figures("area");
  table.row();
  table.cell("North 7");
  table.cell(measure::Written{"1.84", "± 0.12", "m²"});
  table.row();
  table.cell("N2");
  table.cell(measure::Written{"12", "± 3", "m²"});
  EXPECT_EQ(table.text(),
            "Patch              area\n"
            "North 7  1.84 ± 0.12 m²\n"
            "N2         12 ± 3    m²\n");
}

TEST(Text, LongSentencesAreBrokenAtBlanks) {
  EXPECT_EQ(wrapped("one two three", 8, 2), "one two\n  three");
  EXPECT_EQ(wrapped("unbreakable", 4, 2), "unbreakable");
}

}  // namespace
}  // namespace swardwalk::answers
