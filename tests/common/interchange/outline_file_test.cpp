#include "common/interchange/outline_file.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "common/geo/walk.h"
#include "common/interchange/track_builder.h"

namespace swardwalk::interchange {
namespace {

using answers::DrawnOutline;
using answers::ToMeasure;
using answers::Track;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

OutlineFile read(const std::string& bytes, const std::string& name = "folder/walk.txt") {
  return readOutlines({name, bytes});
}

ToMeasure only(const OutlineFile& file) {
  EXPECT_THAT(file.refusals, IsEmpty()) << file.refusals.front().text();
  EXPECT_EQ(file.outlines.size(), 1U);
  return file.outlines.empty() ? ToMeasure{} : file.outlines.front();
}

std::string refusal(const OutlineFile& file) {
  EXPECT_THAT(file.outlines, IsEmpty());
  EXPECT_EQ(file.refusals.size(), 1U);
  return file.refusals.empty() ? std::string() : file.refusals.front().text();
}

Track trackOf(const ToMeasure& outline) {
  EXPECT_TRUE(std::holds_alternative<Track>(outline.what));
  return std::get<Track>(outline.what);
}

/// A position a line, north-east of 51.5 N, 0.12 W, `row` after each.
std::string lines(int count, const char* row = "") {
  std::string text;
  for (int i = 0; i < count; ++i) {
    text += fmt::format("{:.6f},{:.6f}{}\n", 51.5 + 1e-5 * (i % 7), -0.12 + 1e-5 * i,
                        fmt::format(fmt::runtime(row), i));
  }
  return text;
}

std::string sentence(const std::string& body) {
  int sum = 0;
  for (const char sign : body) sum ^= sign;
  return fmt::format("${}*{:02X}\r\n", body, sum);
}

TEST(OutlineFile, CsvWithAccuracyAndTimeIsATrack) {
  const ToMeasure outline = only(read(lines(5, ",0.5,2027-04-12T06:00:{:02}Z")));
  EXPECT_EQ(outline.name, "walk");
  const Track track = trackOf(outline);
  ASSERT_EQ(track.fixes.size(), 5U);
  EXPECT_EQ(track.fixes[2].time, measure::parseInstant("2027-04-12T06:00:02Z").value());
  EXPECT_DOUBLE_EQ(track.fixes[2].accuracy_m.value(), 0.5);
  EXPECT_DOUBLE_EQ(track.fixes[2].position.latitude_deg, 51.50002);
  EXPECT_DOUBLE_EQ(track.fixes[2].position.longitude_deg, -0.11998);
}

TEST(OutlineFile, CsvNamesItsColumnsInAnyOrder) {
  const ToMeasure outline =
      only(read("\xEF\xBB\xBFTime;Lon;Lat\r\n10;-0.12;51.5\r\n"
                "11;-0.12;51.6\r\n12.5;-0.11;51.5\r\n"));
  const Track track = trackOf(outline);
  ASSERT_EQ(track.fixes.size(), 3U);
  EXPECT_DOUBLE_EQ(track.fixes[1].position.latitude_deg, 51.6);
  EXPECT_EQ(track.fixes[2].time - track.fixes[0].time, std::chrono::milliseconds{2500});
  EXPECT_FALSE(track.fixes[0].accuracy_m);
}

TEST(OutlineFile, AFewPlacesWithoutTimeAreADrawnOutlineAndManyAWalk) {
  const ToMeasure few = only(read(lines(6)));
  ASSERT_TRUE(std::holds_alternative<DrawnOutline>(few.what));
  EXPECT_EQ(std::get<DrawnOutline>(few.what).shape.front().outer.size(), 6U);
  EXPECT_EQ(std::get<DrawnOutline>(few.what).places, 6);
  const Track many = trackOf(only(read(lines(40))));
  // 1e-5 degrees a step, mostly 1.3 m, at 1 m/s.
  const auto elapsed = many.fixes[3].time - many.fixes[2].time;
  EXPECT_NEAR(std::chrono::duration<double>(elapsed).count(), 1.31, 0.02);
  EXPECT_EQ(trackOf(only(read(lines(6, ",0.02")))).fixes.size(), 6U);
}

TEST(OutlineFile, ACsvPositionThatMakesNoSenseIsCountedAndNamed) {
  const ToMeasure outline = only(
      read(lines(3, ",1,{}") + "nan,0,1,4\n51.5,x,1,5\n91,0,1,6\n51.5,0,-1,7\n51.5,0,1,noon\n" +
           "51.5\n\n# a remark\n" + lines(2, ",1,1{}")));
  EXPECT_EQ(trackOf(outline).fixes.size(), 5U);
  EXPECT_EQ(trackOf(outline).unreadable, 6);
  EXPECT_THAT(outline.warnings,
              ElementsAre("6 positions make no sense and are left out; the first: line 4: "
                          "latitude or longitude is not a number"));
}

TEST(OutlineFile, PlacesThatMakeNoSenseCountAsDroppedInADrawnOutlineToo) {
  const OutlineFile file = read("0,0\nnan,nan\n0.0001,0\ninf,3\n0.0001,0.0001\n");
  const auto measured =
      answers::measureOutline(file.outlines.at(0), measure::UnitSystem::metric).value();
  EXPECT_EQ(measured.fixesUsed, 3);
  EXPECT_EQ(measured.fixesDropped, 2);
}

TEST(OutlineFile, SwappedLatitudeAndLongitudeAreSuspected) {
  EXPECT_THAT(refusal(read("151.2,-33.8\n151.3,-33.9\n151.1,-33.8\n")), HasSubstr("swapped?"));
}

TEST(OutlineFile, GpxTracksJoinTheirSegmentsAndRoutesCountToo) {
  const auto point = [](int i) {
    return fmt::format(R"(<g:trkpt lat="51.5" lon="{}"><g:time>2027-04-12T06:00:0{}Z</g:time>)"
                       R"(<g:hdop>1.5</g:hdop></g:trkpt>)",
                       -0.12 + 1e-5 * i, i);
  };
  const OutlineFile file =
      read(R"(<?xml version="1.0"?><g:gpx xmlns:g="http://www.topografix.com/GPX/1/1">)"
           "<g:wpt lat=\"1\" lon=\"2\"/><g:trk><g:name>Hollow &amp; 3</g:name><g:trkseg>" +
           point(0) + point(1) + "</g:trkseg><g:trkseg>" + point(2) +
           R"(</g:trkseg></g:trk><g:rte><g:rtept lat="1" lon="2"/></g:rte></g:gpx>)");
  EXPECT_THAT(file.refusals, IsEmpty());
  ASSERT_EQ(file.outlines.size(), 2U);
  EXPECT_EQ(file.outlines[0].name, "Hollow & 3");
  const Track track = trackOf(file.outlines[0]);
  ASSERT_EQ(track.fixes.size(), 3U);
  EXPECT_DOUBLE_EQ(track.fixes[0].accuracy_m.value(), 4.5);
  EXPECT_EQ(file.outlines[1].name, "walk 2");
}

TEST(OutlineFile, GpxThatIsCutOffOrSomethingElseIsRefused) {
  EXPECT_THAT(refusal(read("<gpx>\n<trk><trkseg>\n<trkpt lat=\"1\"")), HasSubstr("walk.txt, line"));
  EXPECT_THAT(refusal(read("<kml></kml>")), HasSubstr("<kml>"));
  EXPECT_THAT(refusal(read("<gpx><wpt lat=\"1\" lon=\"2\"/></gpx>")), HasSubstr("1 waypoint"));
  // Entities of the file's own are not looked up.
  EXPECT_THAT(refusal(read("<!DOCTYPE gpx [<!ENTITY a \"b\">]><gpx>&a;</gpx>")),
              HasSubstr("no track"));
}

TEST(OutlineFile, NmeaLogsAreOneTrackAlsoWithoutADate) {
  std::string log;
  for (int i = 0; i < 4; ++i) {
    log += sentence(fmt::format("GPGGA,06000{},5130.000{},N,00007.2000,W,{},12,0.5,10,M,47,M,1,1",
                                i, i, i == 3 ? 5 : 4));
  }
  const ToMeasure outline = only(read(log + "$GPGGA,0600*00\r\n"));
  const Track track = trackOf(outline);
  ASSERT_EQ(track.fixes.size(), 4U);
  EXPECT_EQ(track.fixes[3].time - track.fixes[0].time, std::chrono::seconds{3});
  EXPECT_DOUBLE_EQ(track.fixes[0].accuracy_m.value(), 1.5);
  EXPECT_THAT(outline.warnings, ElementsAre("One line with a wrong checksum was passed over",
                                            "1 of 4 positions are RTK float, not fixed"));
  EXPECT_THAT(refusal(read("$GPGGA,0600*00\r\n")), HasSubstr("0 good and 1 damaged"));
}

TEST(OutlineFile, GeoJsonOutlinesCarryTheirNameAndTheirDoubt) {
  const std::string square =
      R"({"type":"Polygon","coordinates":[[[0,0],[1e-4,0],[1e-4,1e-4],[0,1e-4],[0,0]]]})";
  const OutlineFile file = read(fmt::format(
      R"({{"type":"FeatureCollection","features":[
{{"type":"Feature","properties":{{"name":"North"}},"geometry":{0}}},
{{"type":"Feature","properties":{{"role":"sighting","patch":"N7"}},"geometry":{0}}},
{{"type":"Feature","properties":{{"edge_u_m":0.1}},"geometry":{0}}},
{{"type":"Feature","properties":{{"green":"North","zone":"collar"}},"geometry":{0}}},
{{"type":"Feature","properties":null,"geometry":null}},
{{"type":"Feature","properties":{{}},"geometry":{{"type":"Point","coordinates":[0,0]}}}}]}})",
      square));
  EXPECT_THAT(file.refusals, IsEmpty());
  ASSERT_EQ(file.outlines.size(), 4U);
  const auto doubt = [&](std::size_t i) {
    return std::get<DrawnOutline>(file.outlines[i].what).edge_u_m;
  };
  EXPECT_EQ(file.outlines[0].name, "North");
  EXPECT_FALSE(doubt(0));
  EXPECT_EQ(file.outlines[1].name, "N7");
  EXPECT_DOUBLE_EQ(doubt(1).value(), 0.02);
  EXPECT_EQ(file.outlines[2].name, "walk 3");
  EXPECT_DOUBLE_EQ(doubt(2).value(), 0.1);
  EXPECT_EQ(file.outlines[3].name, "North, collar");
  EXPECT_EQ(only(read(square)).name, "walk");
}

TEST(OutlineFile, GeoJsonLinesAreTracksWithTheirTimes) {
  const ToMeasure outline = only(read(
      R"({"type":"Feature","id":"t","properties":{"accuracy_m":0.3,
"coordTimes":[["2027-04-12T06:00:00Z"],["2027-04-12T06:00:01Z",""]]},
"geometry":{"type":"MultiLineString","coordinates":[[[0,1]],[[0.1,1,7],[0.2,95]]]}})"));
  EXPECT_EQ(outline.name, "t");
  const Track track = trackOf(outline);
  ASSERT_EQ(track.fixes.size(), 2U);
  EXPECT_DOUBLE_EQ(track.fixes[1].position.longitude_deg, 0.1);
  EXPECT_EQ(track.fixes[1].time - track.fixes[0].time, std::chrono::seconds{1});
  EXPECT_DOUBLE_EQ(track.fixes[1].accuracy_m.value(), 0.3);
  EXPECT_EQ(track.unreadable, 1);
}

TEST(OutlineFile, GeoJsonThatMakesNoSenseIsRefusedWithItsPlace) {
  EXPECT_THAT(refusal(read(R"({"type":"Polygon","coordinates":[[[0,0],[1)")),
              HasSubstr("walk.txt, line 1"));
  EXPECT_THAT(refusal(read(R"([1])")), HasSubstr("not a GeoJSON object"));
  EXPECT_THAT(refusal(read(R"({"type":"FeatureCollection"})")), HasSubstr("no list of features"));
  EXPECT_THAT(refusal(read(R"({"type":"FeatureCollection","features":[]})")),
              HasSubstr("no outline"));
  EXPECT_THAT(refusal(read(R"({"type":"Polygon","coordinates":[[[0,0],[1,91],[1,1],[0,0]]]})")),
              HasSubstr("walk.txt, walk"));
  EXPECT_THAT(refusal(read(R"({"type":"Circle"})")), HasSubstr("\"Circle\" is no geometry"));
  EXPECT_THAT(refusal(read(R"({"type":"LineString","coordinates":7})")), HasSubstr("no list"));
}

TEST(OutlineFile, WhatIsNoTextOrEmptyOrTooLargeIsRefused) {
  EXPECT_THAT(refusal(read("")), HasSubstr("empty"));
  EXPECT_THAT(refusal(read(" \n\t")), HasSubstr("empty"));
  EXPECT_THAT(refusal(read(std::string("GPX\0\1\2", 6))), HasSubstr("not text"));
  EXPECT_THAT(refusal(read("hello\n")), HasSubstr("lat,lon"));
  EXPECT_THAT(refusal(read(std::string(limits::outlineFileBytes + 1, '1'))), HasSubstr("64 MiB"));
}

TEST(OutlineFile, MorePositionsThanAWalkHasAreRefusedBeforeTheyFillTheMemory) {
  std::string text;
  for (std::size_t i = 0; i < 3 * geo::mostFixesOfWalk; ++i) text += "1,2\n";
  EXPECT_THAT(refusal(read(text)), HasSubstr("split the log into walks"));
}

TEST(OutlineFile, TimesMayBeWrittenInSeveralWays) {
  const auto wanted = measure::parseInstant("2027-04-12T06:00:00Z").value();
  for (const char* text :
       {"2027-04-12T06:00:00Z", "2027-04-12 06:00:00", "\"2027-04-12T07:00:00+01:00\"",
        "2027-04-12T06:00:00", "1807509600", " 1807509600.0 "}) {
    EXPECT_EQ(timeIn(text), wanted) << text;
  }
  for (const char* text : {"", "noon", "1e99", "2027-02-30T06:00:00Z", "nan"}) {
    EXPECT_FALSE(timeIn(text)) << text;
  }
}

}  // namespace
}  // namespace swardwalk::interchange
