#include <gtest/gtest.h>

#include <thread>
#include <vector>

#include "common/measure/instant.h"

namespace swardwalk::measure {
namespace {

using namespace std::chrono_literals;

Zone zone(std::string_view name) {
  const Result<Zone> found = Zone::named(name);
  EXPECT_TRUE(found) << name;
  return found.value_or(Zone::utc());
}

Instant at(std::string_view text) { return parseInstant(text).value(); }
Date day(std::string_view text) { return parseDate(text).value(); }

TEST(Zone, WritesTheOffsetOfTheSeason) {
  const Zone london = zone("Europe/London");
  EXPECT_EQ(london.write(at("2027-04-12T05:40:00Z")), "2027-04-12T06:40:00+01:00");
  EXPECT_EQ(london.write(at("2027-01-12T05:40:00.999Z")), "2027-01-12T05:40:00+00:00");
  EXPECT_EQ(zone("America/St_Johns").write(at("2027-01-12T05:40:00Z")),
            "2027-01-12T02:10:00-03:30");
  EXPECT_EQ(Zone::utc().write(at("2027-04-12T05:40:00Z")), "2027-04-12T05:40:00+00:00");
}

TEST(Zone, WhatItWritesIsReadBack) {
  const Instant instant = at("2027-10-31T00:30:00Z");
  for (const char* name : {"Europe/London", "Asia/Kathmandu", "Pacific/Apia", "UTC"}) {
    EXPECT_EQ(parseInstant(zone(name).write(instant)).value(), instant) << name;
  }
}

TEST(Zone, ClockTimeIsOfThePlace) {
  EXPECT_EQ(zone("Europe/London").clockTime(at("2027-04-12T05:40:59Z")), "06:40");
  EXPECT_EQ(Zone::utc().clockTime(at("2027-04-12T05:40:59Z")), "05:40");
}

TEST(Zone, TheDayIsOfThePlace) {
  const Instant lateUtc = at("2027-04-12T23:30:00Z");
  EXPECT_EQ(zone("Europe/London").dateOf(lateUtc), day("2027-04-13"));
  EXPECT_EQ(zone("America/New_York").dateOf(lateUtc), day("2027-04-12"));
  EXPECT_EQ(Zone::utc().dateOf(lateUtc), day("2027-04-12"));
}

TEST(Zone, DaysOfTheClockChangesLast23And25Hours) {
  const Zone london = zone("Europe/London");
  // Changes of 2027 by the rule of the zone: last Sundays of March and October.
  EXPECT_EQ(london.endOf(day("2027-03-28")) - london.endOf(day("2027-03-27")), 23h);
  EXPECT_EQ(london.endOf(day("2027-10-31")) - london.endOf(day("2027-10-30")), 25h);
  EXPECT_EQ(london.endOf(day("2027-06-01")), at("2027-06-01T23:00:00Z"));
}

TEST(Zone, ADayThatBeginsAtOneEndsTheOneBeforeAtMidnight) {
  // In 2018 Sao Paulo's clocks went from 24:00 on 3 November to 01:00 on the 4th.
  const Zone place = zone("America/Sao_Paulo");
  const Instant end = place.endOf(day("2018-11-03"));
  EXPECT_EQ(end, at("2018-11-04T03:00:00Z"));
  EXPECT_EQ(place.clockTime(end), "01:00");
  EXPECT_EQ(place.dateOf(end), day("2018-11-04"));
  EXPECT_EQ(place.dateOf(end - 1ms), day("2018-11-03"));
}

TEST(Zone, ADayThatRepeatsItsLastHourEndsAfterIt) {
  // In 2018 Sao Paulo's clocks went from 24:00 on 17 February back to 23:00.
  const Zone place = zone("America/Sao_Paulo");
  const Instant end = place.endOf(day("2018-02-17"));
  EXPECT_EQ(end, at("2018-02-18T03:00:00Z"));
  EXPECT_EQ(place.dateOf(end - 1ms), day("2018-02-17"));
}

TEST(Zone, ADayThatWasLeftOutEndsWhereTheOneBeforeEnds) {
  // Samoa crossed the date line: there was no 30 December 2011.
  const Zone apia = zone("Pacific/Apia");
  EXPECT_EQ(apia.endOf(day("2011-12-29")), apia.endOf(day("2011-12-30")));
  EXPECT_EQ(apia.dateOf(apia.endOf(day("2011-12-29"))), day("2011-12-31"));
}

TEST(Zone, EveryMomentOfADayLiesBeforeItsEnd) {
  for (const char* name : {"Europe/London", "America/Sao_Paulo", "Australia/Lord_Howe", "UTC"}) {
    const Zone place = zone(name);
    for (Instant now = at("2018-01-01T00:00:00Z"); now < at("2018-12-31T00:00:00Z"); now += 37min) {
      const Date today = place.dateOf(now);
      ASSERT_LT(now, place.endOf(today)) << name << ' ' << place.write(now);
      ASSERT_GE(now, place.endOf(today - std::chrono::days{1})) << name << ' ' << place.write(now);
    }
  }
}

TEST(Zone, RefusesWhatIsNoZone) {
  for (const char* name : {"", "Europe/Atlantis", "europe/london", "+01:00", "../../etc/passwd"}) {
    const Result<Zone> found = Zone::named(name);
    ASSERT_FALSE(found) << name;
    EXPECT_EQ(found.error().kind, FailureKind::invalid);
  }
}

TEST(Zone, KeepsItsName) {
  EXPECT_EQ(zone("Europe/London").name(), "Europe/London");
  EXPECT_EQ(zone("UTC").name(), "UTC");
}

TEST(Zone, IsAPointerToCopy) { EXPECT_EQ(sizeof(Zone), sizeof(void*)); }

TEST(Zone, MayBeNamedAndAskedFromManyThreads) {
  std::vector<std::string> written(8);
  {
    std::vector<std::jthread> threads;
    for (std::string& text : written) {
      threads.emplace_back([&text] {
        text = Zone::named("Asia/Tokyo").value().write(Instant{std::chrono::hours{1'000'000}});
      });
    }
  }
  for (const std::string& text : written) EXPECT_EQ(text, "2084-01-30T01:00:00+09:00");
}

}  // namespace
}  // namespace swardwalk::measure
