#include "common/measure/instant.h"

#include <gtest/gtest.h>

namespace swardwalk::measure {
namespace {

using std::chrono::milliseconds;
using std::chrono::sys_days;
using namespace std::chrono_literals;

Instant at(std::string_view text) {
  const Result<Instant> instant = parseInstant(text);
  EXPECT_TRUE(instant) << text;
  return instant.value_or(Instant{});
}

TEST(ParseInstant, KnowsTheUnixTimeOfAMoment) {
  // date -u -d 2027-04-12T05:40:00Z +%s
  EXPECT_EQ(at("2027-04-12T06:40:00+01:00").time_since_epoch(), 1807508400s);
  EXPECT_EQ(at("1990-01-01T00:00:00Z").time_since_epoch(), 631152000s);
}

TEST(ParseInstant, ReadsTheExamplesOfTheStandard) {
  // RFC 3339 5.8. Its leap seconds are refused: see below.
  EXPECT_EQ(at("1996-12-19T16:39:57-08:00"), at("1996-12-20T00:39:57Z"));
  EXPECT_EQ(at("2027-04-12T23:20:50.52Z").time_since_epoch() % 1s, 520ms);
}

TEST(ParseInstant, TakesSmallLettersAndAnUnknownOffset) {
  EXPECT_EQ(at("2027-04-12t05:40:00z"), at("2027-04-12T05:40:00Z"));
  EXPECT_EQ(at("2027-04-12T05:40:00-00:00"), at("2027-04-12T05:40:00Z"));
}

TEST(ParseInstant, CutsFractionsToMilliseconds) {
  EXPECT_EQ(at("2027-04-12T05:40:00.5Z") - at("2027-04-12T05:40:00Z"), 500ms);
  EXPECT_EQ(at("2027-04-12T05:40:00.0129999Z") - at("2027-04-12T05:40:00Z"), 12ms);
  EXPECT_EQ(at("2027-04-12T05:40:00.123456789012345678901234567890Z") - at("2027-04-12T05:40:00Z"),
            123ms);
}

TEST(ParseInstant, OffsetsMayCrossTheDay) {
  EXPECT_EQ(at("2027-04-12T00:30:00+02:00"), at("2027-04-11T22:30:00Z"));
  EXPECT_EQ(at("2027-12-31T23:30:00-01:00"), at("2028-01-01T00:30:00Z"));
}

class NotAnInstant : public testing::TestWithParam<const char*> {};

TEST_P(NotAnInstant, IsRefusedInWords) {
  const Result<Instant> instant = parseInstant(GetParam());
  ASSERT_FALSE(instant) << GetParam();
  EXPECT_EQ(instant.error().kind, FailureKind::invalid);
  EXPECT_FALSE(instant.error().what.empty());
  EXPECT_FALSE(instant.error().todo.empty());
}

INSTANTIATE_TEST_SUITE_P(
    ParseInstant, NotAnInstant,
    testing::Values("", "2027-04-12", "2027-04-12T06:40:00", "2027-04-12 06:40:00Z",
                    "2027-04-12T06:40Z", "2027-04-12T24:00:00Z", "2027-04-12T06:60:00Z",
                    "2016-12-31T23:59:60Z", "1990-12-31T15:59:60-08:00", "2027-02-29T06:40:00Z",
                    "2027-13-01T06:40:00Z", "2027-00-10T06:40:00Z", "2027-04-12T06:40:00.Z",
                    "2027-04-12T06:40:00,5Z", "2027-04-12T06:40:00+1:00",
                    "2027-04-12T06:40:00+24:00", "2027-04-12T06:40:00+01:60",
                    "2027-04-12T06:40:00+0100", "2027-04-12T06:40:00Z ", " 2027-04-12T06:40:00Z",
                    "27-04-12T06:40:00Z", "2027-4-12T06:40:00Z", "+027-04-12T06:40:00Z",
                    "1989-12-31T23:59:59Z", "2201-01-01T00:00:00Z", "2200-12-31T23:59:59-01:00",
                    "now"));

TEST(ParseInstant, TheYearsFrom1990To2200AreIn) {
  EXPECT_TRUE(parseInstant("1990-01-01T00:00:00Z"));
  EXPECT_TRUE(parseInstant("2200-12-31T23:59:59.999Z"));
}

TEST(ParseDate, ReadsAndWritesADay) {
  const Result<Date> date = parseDate("2028-02-29");
  ASSERT_TRUE(date);
  EXPECT_EQ(isoDate(*date), "2028-02-29");
  EXPECT_EQ(*date, sys_days(2028y / 2 / 29));
}

TEST(ParseDate, RefusesDaysThatDoNotExist) {
  for (const char* text : {"", "2027-02-29", "2100-02-29", "2027-04-31", "2027-4-12", "12.4.2027",
                           "2027-04-12T", "1989-12-31", "2201-01-01", "2027-04-123"}) {
    EXPECT_FALSE(parseDate(text)) << text;
  }
}

TEST(WordsDate, IsShortAndCanCarryItsYear) {
  const Date day = sys_days(2027y / 4 / 2);
  EXPECT_EQ(wordsDate(day), "2 April");
  EXPECT_EQ(wordsDate(day, true), "2 April 2027");
}

TEST(DaysBetween, CountsDaysOf86400Seconds) {
  // Over the change to summer time in London: two mornings, 23 h apart.
  EXPECT_DOUBLE_EQ(daysBetween(at("2027-03-27T12:00:00Z"), at("2027-03-28T11:00:00Z")),
                   23.0 / 24.0);
  EXPECT_DOUBLE_EQ(daysBetween(at("2027-03-02T00:00:00Z"), at("2027-03-01T00:00:00Z")), -1.0);
}

}  // namespace
}  // namespace swardwalk::measure
