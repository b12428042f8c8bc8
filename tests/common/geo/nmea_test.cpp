#include "common/geo/nmea.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <vector>

namespace swardwalk::geo {
namespace {

/// A real receiver's log: NOAA, ATOMIC 2020, gps02001420_raw.txt
/// (downloads.psl.noaa.gov/psd3/cruises/ATOMIC_2020/RHB).
const std::vector<std::string> noaa = {
    "$GPGGA,195959.00,1541.31258893,N,05130.51204125,W,2,06,1.5,9.2,M,-37.6,M,4.0,0138*7E",
    "$GPGLL,1541.31258893,N,05130.51204125,W,195959.00,A,D*7B",
    "$GPVTG,147.44,T,164.31,M,0.26,N,0.49,K,D*2C",
    "$GPZDA,195959.00,14,01,2020,00,00*6A",
    "$GPRMC,195959.00,A,1541.31258893,N,05130.51204125,W,0.26,147.44,140120,16.9,W,D*0B",
    "$GPGSA,M,3,14,16,26,27,29,31,,,,,,,2.7,1.5,2.3*34",
    "$GPGSV,3,1,12,03,09,280,,04,11,322,,08,11,209,35,14,68,160,42*70",
    "$GPGST,195959.00,0.30,0.36,0.26,283.74,0.26,0.36,0.68*68",
    "$GPGGA,200000.00,1541.31248595,N,05130.51199976,W,2,06,1.5,8.8,M,-37.6,M,5.0,0138*7D",
    "$GPRMC,200000.00,A,1541.31248595,N,05130.51199976,W,0.59,154.37,140120,16.9,W,D*0C",
    "$GPGST,200000.00,0.30,0.36,0.26,283.69,0.27,0.36,0.68*6F",
    "$GPGGA,200001.00,1541.31235466,N,05130.51197862,W,2,06,1.5,8.9,M,-37.6,M,6.0,0138*73",
    "$GPRMC,200001.00,A,1541.31235466,N,05130.51197862,W,0.49,166.14,140120,16.9,W,D*01"};

/// A sentence of our own with its checksum.
std::string sentence(const std::string& body) {
  int sum = 0;
  for (const char sign : body) sum ^= sign;
  return fmt::format("${}*{:02X}", body, sum);
}

std::vector<Fix> readAll(NmeaReader& reader, const std::vector<std::string>& lines) {
  std::vector<Fix> fixes;
  for (const std::string& line : lines) {
    if (const auto fix = reader.take(line)) fixes.push_back(*fix);
  }
  if (const auto fix = reader.finish()) fixes.push_back(*fix);
  return fixes;
}

std::vector<Fix> readAll(const std::vector<std::string>& lines) {
  NmeaReader reader;
  return readAll(reader, lines);
}

measure::Instant at(std::string_view text) { return measure::parseInstant(text).value(); }

TEST(Nmea, ReadsARealReceiversLog) {
  NmeaReader reader;
  const std::vector<Fix> fixes = readAll(reader, noaa);
  ASSERT_EQ(fixes.size(), 3U);
  EXPECT_EQ(reader.sentences(), 13);
  EXPECT_EQ(reader.badChecksums(), 0);
  const Fix& first = fixes.front();
  // Computed: 15.688543148833332, -51.50853402083333; minutes over 60 round in the last digit.
  EXPECT_NEAR(first.position.latitude_deg, 15.688543148833332, 1e-13);
  EXPECT_NEAR(first.position.longitude_deg, -51.50853402083333, 1e-13);
  EXPECT_EQ(first.time, at("2020-01-14T19:59:59Z"));
  EXPECT_EQ(first.quality, FixQuality::differential);
  EXPECT_NEAR(first.speed_m_s.value(), 0.26 * 1852.0 / 3600.0, 1e-12);
  EXPECT_DOUBLE_EQ(first.heading_deg.value(), 147.44);
  EXPECT_EQ(fixes[2].time, at("2020-01-14T20:00:01Z"));
}

TEST(Nmea, AccuracyIsTheRootOfTheMeanOfTheTwoSquaredSigmas) {
  const std::vector<Fix> fixes = readAll(noaa);
  EXPECT_NEAR(fixes[0].accuracy_m.value(), std::sqrt((0.26 * 0.26 + 0.36 * 0.36) / 2.0), 1e-12);
  EXPECT_NEAR(fixes[1].accuracy_m.value(), std::sqrt((0.27 * 0.27 + 0.36 * 0.36) / 2.0), 1e-12);
  // The third epoch has no GST: HDOP 1.5 times the range error.
  EXPECT_NEAR(fixes[2].accuracy_m.value(), 1.5 * 3.0, 1e-12);
}

TEST(Nmea, AManualsSentenceWhoseEllipseContradictsItsSigmasIsReadByItsSigmas) {
  // help.fieldsystems.trimble.com, nmea0183-messages-gst: the ellipse says the opposite,
  // but the mean of the two squares is the same either way.
  const std::vector<Fix> fixes =
      readAll({sentence("GPRMC,172814.0,A,3723.46587704,N,12202.26957864,W,0.0,0.0,210305,,,D"),
               "$GPGST,172814.0,0.006,0.023,0.020,273.6,0.023,0.020,0.031*6A"});
  ASSERT_EQ(fixes.size(), 1U);
  EXPECT_NEAR(fixes[0].accuracy_m.value(), std::sqrt((0.023 * 0.023 + 0.020 * 0.020) / 2.0), 1e-12);
}

TEST(Nmea, ReadsTheClassicSentences) {
  NmeaReader reader(5.0);
  const std::vector<Fix> fixes =
      readAll(reader, {"$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47",
                       "$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A",
                       "$GPGSA,A,3,04,05,,09,12,,,24,,,,,2.5,1.3,2.1*39",
                       "$GPGLL,4916.45,N,12311.12,W,225444,A,*1D"});
  ASSERT_EQ(fixes.size(), 1U);
  EXPECT_EQ(fixes[0].time, at("1994-03-23T12:35:19Z"));
  EXPECT_NEAR(fixes[0].position.latitude_deg, 48.0 + 7.038 / 60.0, 1e-13);
  EXPECT_NEAR(fixes[0].position.longitude_deg, 11.0 + 31.0 / 60.0, 1e-13);
  EXPECT_EQ(fixes[0].quality, FixQuality::autonomous);
  EXPECT_NEAR(fixes[0].accuracy_m.value(), 0.9 * 5.0, 1e-12);
}

TEST(Nmea, HdopMayComeFromGsa) {
  const std::vector<Fix> fixes =
      readAll({"$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A",
               "$GPGSA,A,3,04,05,,09,12,,,24,,,,,2.5,1.3,2.1*39"});
  ASSERT_EQ(fixes.size(), 1U);
  EXPECT_NEAR(fixes[0].accuracy_m.value(), 1.3 * 3.0, 1e-12);
}

TEST(Nmea, BeforeTheFirstDateThereAreNoFixes) {
  const std::string lonely = "$GPGGA,123518,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*46";
  EXPECT_TRUE(readAll({lonely}).empty());
  const std::vector<Fix> fixes =
      readAll({lonely, "$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47",
               "$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A"});
  ASSERT_EQ(fixes.size(), 1U);
  EXPECT_EQ(fixes[0].time, at("1994-03-23T12:35:19Z"));
}

TEST(Nmea, WithoutAnAccuracyOrAnHdopThereIsNone) {
  const std::vector<Fix> fixes =
      readAll({sentence("GNRMC,060000.20,A,5130.0,N,00007.2,W,,,120427,,,A")});
  ASSERT_EQ(fixes.size(), 1U);
  EXPECT_FALSE(fixes[0].accuracy_m);
  EXPECT_FALSE(fixes[0].speed_m_s);
  EXPECT_FALSE(fixes[0].heading_deg);
  EXPECT_EQ(fixes[0].time, at("2027-04-12T06:00:00.2Z"));
}

TEST(Nmea, QualityIsThatOfTheGga) {
  const std::vector<std::pair<int, FixQuality>> expected = {{1, FixQuality::autonomous},
                                                            {2, FixQuality::differential},
                                                            {4, FixQuality::fixed},
                                                            {5, FixQuality::floating}};
  for (const auto& [code, quality] : expected) {
    const std::vector<Fix> fixes =
        readAll({sentence("GNZDA,060000.00,12,04,2027,00,00"),
                 sentence(fmt::format("GNGGA,060000.00,5130.0,N,00007.2,W,{},12,0.6,20,M,47,M,1,1",
                                      code))});
    ASSERT_EQ(fixes.size(), 1U) << code;
    EXPECT_EQ(fixes[0].quality, quality) << code;
  }
}

TEST(Nmea, VoidReckonedAndTypedPositionsAreNone) {
  for (const int code : {0, 6, 7}) {
    EXPECT_TRUE(readAll({sentence("GNZDA,060000.00,12,04,2027,00,00"),
                         sentence(fmt::format(
                             "GNGGA,060000.00,5130.0,N,00007.2,W,{},12,0.6,20,M,47,M,1,1", code)),
                         sentence("GNRMC,060000.00,A,5130.0,N,00007.2,W,1,2,120427,,,A")})
                    .empty())
        << code;
  }
  EXPECT_TRUE(readAll({sentence("GNRMC,060000.00,V,5130.0,N,00007.2,W,1,2,120427,,,N")}).empty());
  EXPECT_TRUE(readAll({sentence("GNRMC,060000.00,A,5130.0,N,00007.2,W,1,2,120427,,,E")}).empty());
}

TEST(Nmea, BadChecksumsAreCountedAndPassedOver) {
  std::vector<std::string> lines = noaa;
  lines[0][20] = '9';
  lines.push_back("$GPGGA,no checksum at all");
  lines.push_back("$");
  lines.push_back("$*");
  lines.push_back("$GPGGA*ZZ");
  lines.push_back("$" + std::string(5000, 'x') + "*00");
  NmeaReader reader;
  const std::vector<Fix> fixes = readAll(reader, lines);
  EXPECT_EQ(reader.badChecksums(), 6);
  EXPECT_EQ(reader.sentences(), 12);
  // The first epoch still has its place from RMC, without the differential quality.
  ASSERT_EQ(fixes.size(), 3U);
  EXPECT_EQ(fixes[0].quality, FixQuality::unknown);
}

TEST(Nmea, LineEndsAndSmallHexDigitsDoNotMatter) {
  NmeaReader reader;
  for (const std::string& line : noaa) {
    std::string small = line;
    for (std::size_t i = small.size() - 2; i < small.size(); ++i) {
      small[i] = static_cast<char>(std::tolower(small[i]));
    }
    reader.take(small + "\r\n");
  }
  EXPECT_EQ(reader.badChecksums(), 0);
  EXPECT_EQ(reader.sentences(), 13);
}

TEST(Nmea, MidnightIsPassedBeforeTheNewDateIsSaid) {
  const auto gga = [](const char* time) {
    return sentence(fmt::format("GNGGA,{},5130.0,N,00007.2,W,1,12,0.6,20,M,47,M,1,1", time));
  };
  const std::vector<Fix> fixes =
      readAll({sentence("GNRMC,235959.00,A,5130.0,N,00007.2,W,1,2,311226,,,A"), gga("235959.00"),
               gga("000000.00"), gga("000001.00"),
               sentence("GNRMC,000001.00,A,5130.0,N,00007.2,W,1,2,010127,,,A")});
  ASSERT_EQ(fixes.size(), 3U);
  EXPECT_EQ(fixes[0].time, at("2026-12-31T23:59:59Z"));
  EXPECT_EQ(fixes[1].time, at("2027-01-01T00:00:00Z"));
  EXPECT_EQ(fixes[2].time, at("2027-01-01T00:00:01Z"));
}

TEST(Nmea, FieldsThatMakeNoSenseAreNone) {
  for (const char* place : {"9130.0,N,00007.2,W", "5160.0,N,00007.2,W", "5130.0,N,18100.0,E",
                            "5130.0,X,00007.2,W", "5130.0,E,00007.2,N", "-130.0,N,00007.2,W", ",,,",
                            "nan,N,00007.2,W", "5130.0,N,0,W", "51e1.0,N,00007.2,W"}) {
    EXPECT_TRUE(
        readAll({sentence(fmt::format("GNRMC,060000.00,A,{},1,2,120427,,,A", place))}).empty())
        << place;
  }
  for (const char* time : {"", "6", "246000", "066000", "060060", "06000x", "-60000"}) {
    EXPECT_TRUE(
        readAll({sentence(fmt::format("GNRMC,{},A,5130.0,N,00007.2,W,1,2,120427,,,A", time))})
            .empty())
        << time;
  }
  EXPECT_TRUE(readAll({sentence("GNRMC,060000.00,A,5130.0,N,00007.2,W,1,2,310427,,,A")}).empty());
}

TEST(Nmea, EveryBrokenByteOfALogIsSurvived) {
  std::string log;
  for (const std::string& line : noaa) log += line + "\r\n";
  for (std::size_t broken = 0; broken < log.size(); ++broken) {
    std::string bytes = log;
    bytes[broken] = static_cast<char>(bytes[broken] ^ (broken % 255 + 1));
    NmeaReader reader;
    std::vector<Fix> fixes;
    for (std::size_t from = 0; from < bytes.size();) {
      const std::size_t end = std::min(bytes.find('\n', from), bytes.size());
      if (const auto fix = reader.take(std::string_view(bytes).substr(from, end - from))) {
        fixes.push_back(*fix);
      }
      from = end + 1;
    }
    if (const auto fix = reader.finish()) fixes.push_back(*fix);
    EXPECT_LE(reader.badChecksums(), 1);
    EXPECT_GE(fixes.size(), 2U);
    for (const Fix& fix : fixes) EXPECT_NEAR(fix.position.latitude_deg, 15.6885, 1e-4);
  }
}

}  // namespace
}  // namespace swardwalk::geo
