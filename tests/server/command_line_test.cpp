#include "server/command/command_line.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace swardwalk::server {
namespace {

using testing::HasSubstr;

std::variant<CommandLine, EarlyEnd> parse(std::vector<const char*> words) {
  words.insert(words.begin(), "swardwalk-server");
  return parseCommandLine(static_cast<int>(words.size()), words.data());
}

TEST(CommandLine, ReadsACommandWithItsOptions) {
  const auto parsed = parse(
      {"progress", "--data", "d", "--on", "2027-04-12", "--format", "json", "--units", "imperial"});
  const auto& line = std::get<CommandLine>(parsed);
  EXPECT_EQ(line.command, Command::progress);
  EXPECT_EQ(line.data, "d");
  ASSERT_TRUE(line.on);
  EXPECT_EQ(measure::isoDate(*line.on), "2027-04-12");
  EXPECT_EQ(line.format, Format::json);
  EXPECT_EQ(line.units, measure::UnitSystem::imperial);
}

TEST(CommandLine, TakesSeveralFiles) {
  const auto parsed = parse({"import", "--data", "d", "a.geojson", "b.geojson", "--skip-bad"});
  const auto& line = std::get<CommandLine>(parsed);
  EXPECT_THAT(line.files, testing::ElementsAre("a.geojson", "b.geojson"));
  EXPECT_TRUE(line.skipBad);
}

TEST(CommandLine, MeasureNeedsNoCourse) {
  const auto parsed = parse({"measure", "a.csv", "b.gpx", "--on", "2027-04-12"});
  const auto& line = std::get<CommandLine>(parsed);
  EXPECT_EQ(line.command, Command::measure);
  EXPECT_THAT(line.files, testing::ElementsAre("a.csv", "b.gpx"));
}

TEST(CommandLine, SaysWrongUsageInOneLineWithStatus2) {
  const std::vector<std::vector<const char*>> wrong{
      {},
      {"mow"},
      {"progress"},
      {"measure"},
      {"measure", "a.csv", "--data", "d"},
      {"progress", "--data", ""},
      {"progress", "--data", "d", "--on", "2027-02-30"},
      {"progress", "--data", "d", "--on", "tomorrow"},
      {"progress", "--data", "d", "--format", "xml"},
      {"progress", "--data", "d", "--units", "ells"},
      {"progress", "--data", "d", "more"},
      {"progress", "--data", "d", "--deep"},
      {"import", "--data", "d"},
      {"export", "--data", "d"},
      {"export", "--data", "d", "--as", "stone"},
      {"export", "--data", "d", "--as", "records", "--on", "2027-04-12"},
      {"check", "--data", "d", "--on", "2027-04-12"},
      {"exchange", "--data", "d"},
      {"exchange", "--data", "d", "--with", "x", "--on", "2027-04-12"},
      {"round", "--data", "d", "--from", "40"},
      {"round", "--data", "d", "--from", "40,x"},
      {"round", "--data", "d", "--from", "91,0"},
      {"round", "--data", "d", "--from", "40,nan"},
      {"plan", "--data", "d", "--from", "40,-30"},
      {"accept", "--data", "d"},
      {"serve", "--data", "d"},
      {"serve", "--data", "d", "--listen", "127.0.0.1:1", "--certificate", "c"},
      {"exchange", "--data", "d", "--with", "x", "--fingerprint"},
      {"serve", "--data", "d", "--listen", "8137"},
      {"serve", "--data", "d", "--listen", "127.0.0.1:99999"},
  };
  for (const auto& words : wrong) {
    const auto parsed = parse(words);
    const std::string name = testing::PrintToString(words);
    ASSERT_TRUE(std::holds_alternative<EarlyEnd>(parsed)) << name;
    const auto& end = std::get<EarlyEnd>(parsed);
    EXPECT_EQ(end.status, 2) << name;
    EXPECT_EQ(std::count(end.text.begin(), end.text.end(), '\n'), 1) << end.text;
    EXPECT_EQ(end.text.back(), '\n');
  }
}

TEST(CommandLine, HelpNamesEveryCommandThatThereIs) {
  const auto end = std::get<EarlyEnd>(parse({"--help"}));
  EXPECT_EQ(end.status, 0);
  for (const char* command :
       {"serve", "import", "export", "exchange", "accept", "progress", "plan", "round", "check",
        "rescue", "bundle", "pair", "devices", "shut-out", "people"}) {
    EXPECT_THAT(end.text, HasSubstr(command));
  }
}

TEST(CommandLine, ACommandHasItsOwnHelpAndVersion) {
  const auto help = std::get<EarlyEnd>(parse({"plan", "--help"}));
  EXPECT_EQ(help.status, 0);
  EXPECT_THAT(help.text, HasSubstr("--on"));
  for (const auto& words :
       std::vector<std::vector<const char*>>{{"--version"}, {"plan", "--version"}}) {
    const auto version = std::get<EarlyEnd>(parse(words));
    EXPECT_EQ(version.status, 0);
    EXPECT_THAT(version.text, testing::MatchesRegex("swardwalk-server [0-9.]+\n"));
  }
}

}  // namespace
}  // namespace swardwalk::server
