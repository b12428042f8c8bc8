#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <boost/json.hpp>

#include <filesystem>

#include "server/command/files.h"
#include "tests/server/child.h"
#include "tests/server/course.h"
#include "tests/server/folder.h"

namespace swardwalk::server {
namespace {

namespace json = boost::json;
using testing::HasSubstr;
using testing::StartsWith;

/// A square of 1e-4 degrees at the equator, 11.13 by 11.06 m.
constexpr const char* square =
    R"({"type":"Polygon","coordinates":[[[0,0],[1e-4,0],[1e-4,1e-4],[0,1e-4],[0,0]]]})";

TEST(MeasureCommand, MeasuresEachFileInTurnWithoutACourse) {
  TestFolder folder;
  const std::string first = writeText(folder / "first.geojson", square);
  const std::string second = writeText(folder / "second.csv", "0,0\n0,0.0001\n0.0001,0\n");
  const Printed printed = runHere({"measure", first.c_str(), second.c_str(), "--format", "json"});
  EXPECT_EQ(printed.status, 0) << printed.err;
  EXPECT_EQ(printed.err, "");
  const json::value answer = json::parse(printed.out);
  const auto& outlines = answer.at("outlines").as_array();
  ASSERT_EQ(outlines.size(), 2U);
  EXPECT_EQ(outlines[0].at("name"), "first");
  EXPECT_NEAR(outlines[0].at("area_m2").to_number<double>(),
              2.0 * outlines[1].at("area_m2").to_number<double>(), 1e-6);
  EXPECT_NEAR(outlines[0].at("area_m2").to_number<double>(), 11.13 * 11.06, 0.1);
}

TEST(MeasureCommand, WhatIsRefusedIsNamedAndTheRestMeasured) {
  TestFolder folder;
  const std::string good = writeText(folder / "good.geojson", square);
  const std::string bad = writeText(folder / "bad.gpx", "<gpx><trk>");
  const std::string nowhere = folder / "nowhere.csv";
  const Printed printed =
      runHere({"measure", bad.c_str(), nowhere.c_str(), good.c_str(), "--format", "csv"});
  EXPECT_EQ(printed.status, 1);
  EXPECT_THAT(printed.err, HasSubstr("bad.gpx, line 1: "));
  EXPECT_THAT(printed.err, HasSubstr("nowhere.csv: "));
  EXPECT_EQ(std::count(printed.err.begin(), printed.err.end(), '\n'), 2);
  EXPECT_THAT(printed.out, StartsWith("name,area_m2,"));
  EXPECT_THAT(printed.out, HasSubstr("\r\ngood,123."));
}

TEST(MeasureCommand, TenMillionPositionsAreRefusedInWordsAndNotReadWhole) {
  TestFolder folder;
  const std::string file = writeText(folder / "day.csv", "55.2,-3.1\n");
  std::filesystem::resize_file(file, 280'000'000);
  const Printed printed = runHere({"measure", file.c_str()});
  EXPECT_EQ(printed.status, 1);
  EXPECT_THAT(printed.err, HasSubstr("day.csv: larger than 64 MiB; give one walk"));
  EXPECT_EQ(readFile(file, 12).value().size(), 12U);
  EXPECT_EQ(readFile(file, 100'000).value().size(), 100'000U);
  EXPECT_EQ(readFile(writeText(folder / "short.csv", "1,2\n"), 12).value(), "1,2\n");
}

TEST(MeasureCommand, TextIsInTheUnitsAskedFor) {
  TestFolder folder;
  const std::string file = writeText(folder / "square.geojson", square);
  EXPECT_THAT(runHere({"measure", file.c_str()}).out, HasSubstr("m²"));
  const Printed imperial = runHere({"measure", file.c_str(), "--units", "imperial"});
  EXPECT_THAT(imperial.out, HasSubstr("ft²"));
  EXPECT_THAT(imperial.out, testing::Not(HasSubstr("m²")));
}

}  // namespace
}  // namespace swardwalk::server
