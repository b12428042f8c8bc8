#include "common/course/json.h"

#include <gtest/gtest.h>

#include <boost/json.hpp>

namespace swardwalk::course {
namespace {

std::string roundTrip(const std::string& text) {
  JsonReader reader;
  const auto value = reader.read(text);
  return value ? writeJson(**value) : value.error().text();
}

std::string canonical(const std::string& text) {
  JsonReader reader;
  return canonicalJson(**reader.read(text));
}

std::string failureOf(const std::string& text) {
  JsonReader reader;
  const auto value = reader.read(text);
  return value ? "no failure" : value.error().text();
}

TEST(Json, NumbersSurviveReadingAndWriting) {
  for (const std::string number :
       {"0", "-17", "1.84", "0.1", "5.123456789012345", "1e+300", "9007199254740993",
        "18446744073709551615", "-9223372036854775808", "2.2250738585072014e-308",
        // Boost 1.81's own parser reads the next three one unit in the last place off: it
        // rounds the digits to a double, and then the quotient by a power of ten.
        "51.898982129577476", "52.037356567046004", "1.2331235713538757"}) {
    EXPECT_EQ(roundTrip(number), number);
  }
}

TEST(Json, WritingTwiceChangesNothingMore) {
  const std::string once = roundTrip(R"({"b":[1.0,5E-1,1e3,"é\u00e9\n\u0001"],"a":null})");
  EXPECT_EQ(once, R"({"b":[1,0.5,1000,"éé\n\u0001"],"a":null})");
  EXPECT_EQ(roundTrip(once), once);
}

TEST(Json, EqualValuesHaveOneCanonicalText) {
  EXPECT_EQ(canonical(R"({"b":1.0,"a":{"d":2e1,"c":-0.0}})"),
            canonical(R"({"a":{"c":0,"d":20},"b":1})"));
  EXPECT_NE(canonical("[1,2]"), canonical("[2,1]"));
}

TEST(Json, FailuresNameLineAndColumn) {
  EXPECT_EQ(failureOf("{\n \"a\": tru }").substr(0, 6), "line 2");
  EXPECT_EQ(failureOf("{\"a\":"),
            "line 1, column 6: the JSON text ends too early; "
            "copy the whole file again");
  EXPECT_EQ(failureOf("[1] 2").substr(0, 16), "line 1, column 5");
  EXPECT_EQ(failureOf("").substr(0, 16), "line 1, column 1");
}

TEST(Json, RefusesNumbersBeyondADoubleAndDeepLists) {
  EXPECT_NE(failureOf("1e999").find("larger than can be computed with"), std::string::npos);
  EXPECT_EQ(roundTrip("1e-999"), "0");
  EXPECT_EQ(failureOf(std::string(64, '[') + std::string(64, ']')), "no failure");
  EXPECT_NE(failureOf(std::string(100'000, '[')).find("more than 64 deep"), std::string::npos);
}

TEST(Json, AReaderReadsOnAfterAFailure) {
  JsonReader reader;
  EXPECT_FALSE(reader.read("[1,"));
  const auto value = reader.read("[1.25]");
  ASSERT_TRUE(value);
  EXPECT_EQ(writeJson(**value), "[1.25]");
}

}  // namespace
}  // namespace swardwalk::course
