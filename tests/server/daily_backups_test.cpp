#include "server/shed/daily_backups.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <thread>

#include "common/course/course_fold.h"
#include "common/journal/folder.h"
#include "common/journal/photo_folder.h"
#include "tests/server/child.h"
#include "tests/server/course.h"
#include "tests/server/folder.h"

namespace swardwalk::server {
namespace {

namespace fs = std::filesystem;
using testing::ElementsAre;
using testing::HasSubstr;

constexpr std::int64_t noon_ms = 1807531200000;  // 2027-04-12, a Monday
constexpr std::int64_t day_ms = 86'400'000;

std::vector<std::string> written(const std::vector<measure::Date>& days) {
  std::vector<std::string> texts;
  for (const measure::Date day : days) texts.push_back(measure::isoDate(day));
  return texts;
}

/// Goes through so many days, each with its copy, and drops what is not kept each day.
std::vector<std::string> after(int days, const char* last) {
  std::vector<measure::Date> kept;
  const measure::Date end = *measure::parseDate(last);
  for (int i = days - 1; i >= 0; --i) {
    kept.push_back(end - std::chrono::days(i));
    kept = keptDays(kept);
  }
  return written(kept);
}

TEST(KeptDays, SevenDaysFiveWeeksTwelveMonthsAreKeptHoweverLongItRuns) {
  // 2027-04-14 is a Wednesday: its week, and four Sundays before it; ends of months.
  const std::vector<std::string> wanted{
      "2026-05-31", "2026-06-30", "2026-07-31", "2026-08-31", "2026-09-30", "2026-10-31",
      "2026-11-30", "2026-12-31", "2027-01-31", "2027-02-28", "2027-03-21", "2027-03-28",
      "2027-03-31", "2027-04-04", "2027-04-08", "2027-04-09", "2027-04-10", "2027-04-11",
      "2027-04-12", "2027-04-13", "2027-04-14"};
  EXPECT_EQ(after(400, "2027-04-14"), wanted);
  EXPECT_EQ(after(1200, "2027-04-14"), wanted);
}

TEST(KeptDays, FewAreAllKept) {
  EXPECT_EQ(after(7, "2027-04-14").size(), 7u);
  EXPECT_THAT(after(1, "2027-04-14"), ElementsAre("2027-04-14"));
  EXPECT_TRUE(keptDays({}).empty());
}

TEST(KeptDays, AClosedWinterTakesNothingAway) {
  std::vector<measure::Date> days;
  for (int i = 0; i < 7; ++i)
    days.push_back(*measure::parseDate("2026-10-01") + std::chrono::days(i));
  days.push_back(*measure::parseDate("2027-04-14"));
  // The first of October leaves the newest seven, and is no week's and no month's newest.
  EXPECT_EQ(keptDays(days).size(), 7u);
}

class Backups : public testing::Test {
 protected:
  void SetUp() override {
    const Printed taken = runHere({"import", "--data", data.c_str(), brindlewater.c_str()});
    ASSERT_EQ(taken.status, 0) << taken.err;
  }

  std::vector<std::string> files() const {
    std::vector<std::string> names;
    for (const auto& entry : fs::directory_iterator(data + "/backups")) {
      if (entry.is_regular_file()) names.push_back(entry.path().filename());
    }
    std::sort(names.begin(), names.end());
    return names;
  }

  TestFolder folder;
  std::string data = folder / "shed";
  DailyBackups backups{data};
};

TEST_F(Backups, OneADayAndOldOnesGo) {
  const KeepingRule rule{2, 1, 1};
  EXPECT_TRUE(backups.keepUp(noon_ms, rule).value());
  EXPECT_FALSE(backups.keepUp(noon_ms + day_ms / 4, rule).value());
  EXPECT_THAT(files(), ElementsAre("2027-04-12.sqlite"));
  writeText(data + "/backups/mine.sqlite", "kept by hand");
  EXPECT_TRUE(backups.keepUp(noon_ms + day_ms, rule).value());
  EXPECT_TRUE(backups.keepUp(noon_ms + 2 * day_ms, rule).value());
  EXPECT_THAT(files(), ElementsAre("2027-04-13.sqlite", "2027-04-14.sqlite", "mine.sqlite"));
  EXPECT_EQ(fs::status(data + "/backups").permissions(), fs::perms::owner_all);
}

TEST_F(Backups, ABlankShedMakesNone) {
  const std::string blank = folder / "blank";
  course::CourseFold fold;
  ASSERT_TRUE(journal::openFolder(blank, journal::Missing::make, fold));
  EXPECT_FALSE(DailyBackups(blank).keepUp(noon_ms).value());
  EXPECT_FALSE(fs::exists(blank + "/backups"));
}

TEST_F(Backups, WhatCannotBeWrittenIsSaid) {
  writeText(data + "/backups", "in the way");
  const auto done = backups.keepUp(noon_ms);
  ASSERT_FALSE(done);
  EXPECT_THAT(done.error().text(), HasSubstr("backups"));
}

TEST_F(Backups, AnErasedPictureLeavesThemAndOneOfAnotherTimeStays) {
  ASSERT_TRUE(backups.keepUp(noon_ms));
  journal::PhotoFolder copies = journal::PhotoFolder::at(data + "/backups/photos");
  const auto erased = copies.add("erased");
  const auto later = copies.add("of records that came later");
  ASSERT_TRUE(erased && later);
  ASSERT_TRUE(journal::PhotoFolder(data).add("of records that came later"));
  ASSERT_TRUE(backups.keepUp(noon_ms + day_ms));
  EXPECT_FALSE(copies.holds(*erased));
  EXPECT_TRUE(copies.holds(*later));
}

TEST_F(Backups, OneIsRestoredOnAnotherMachine) {
  ASSERT_TRUE(backups.keepUp(noon_ms));
  const std::string file = data + "/backups/2027-04-12.sqlite";
  const std::string there = folder / "there";
  const Printed restored = runHere({"restore", "--data", there.c_str(), "--from", file.c_str()});
  ASSERT_EQ(restored.status, 0) << restored.err;
  EXPECT_EQ(runHere({"progress", "--data", there.c_str()}).out,
            runHere({"progress", "--data", data.c_str()}).out);
  EXPECT_EQ(photosOfBackup(file), data + "/backups/photos");
  fs::create_directory(file + ".photos");
  EXPECT_EQ(photosOfBackup(file), file + ".photos");
}

TEST(ServeBackups, AShedMakesItsOwn) {
  const TestFolder folder;
  ASSERT_EQ(runServer({"import", "--data", folder / "d", brindlewater}).status, 0);
  {
    const RunningShed shed(folder / "d");
    const std::string wanted = R"("backup":"fresh")";
    for (int i = 0; i < 500 && get(shed.port(), "/health").find(wanted) == std::string::npos; ++i) {
      std::this_thread::sleep_for(std::chrono::milliseconds(20));
    }
    EXPECT_THAT(get(shed.port(), "/health"), HasSubstr(wanted));
  }
  std::size_t copies = 0;
  for (const auto& entry : fs::directory_iterator(folder / "d/backups")) {
    if (entry.path().extension() == ".sqlite") ++copies;
  }
  EXPECT_EQ(copies, 1u);
}

}  // namespace
}  // namespace swardwalk::server
