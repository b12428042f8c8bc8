#include <gtest/gtest.h>

#include "tests/common/interchange/files.h"

namespace swardwalk::interchange {
namespace {

using course::Device;
using course::point;
using course::square;

/// Sand as it stands in three states of a file.
std::string sand(double density_kg_l) {
  return feature("fill", fmt::format(R"({{"name":"Sand","bulk_density_kg_l":{}}})", density_kg_l));
}

const std::string seen = feature(
    "sighting", R"({"patch":"N1","kind":"bare","seen":"2027-04-10T06:00:00Z"})", point(3, 3));

double density(Device& device) { return device.state().fills.at(0).bulkDensity_kg_l; }

TEST(Corrections, ALaterFeatureOfTheSameNameCorrectsTheEarlierOne) {
  Device device(1, nullptr);
  EXPECT_EQ(counts(import(device, {sand(1.5), sand(1.6)})), "2 0 0");
  EXPECT_EQ(density(device), 1.6);
  EXPECT_EQ(counts(import(device, {sand(1.5), sand(1.6)})), "0 2 0");
  EXPECT_EQ(counts(import(device, {sand(1.7)})), "1 0 0");
  EXPECT_EQ(density(device), 1.7);
}

TEST(Corrections, AFileOfAnEarlierVersionCorrectsBackOnce) {
  Device device(1, nullptr);
  import(device, {sand(1.5)});
  import(device, {sand(1.6)});
  EXPECT_EQ(counts(import(device, {sand(1.5)})), "1 0 0");
  EXPECT_EQ(density(device), 1.5);
  EXPECT_EQ(counts(import(device, {sand(1.5)})), "0 1 0");
  EXPECT_EQ(counts(import(device, {sand(1.6)})), "1 0 0");
  EXPECT_EQ(density(device), 1.6);
}

TEST(Corrections, TheLastVersionOfTheCallHolds) {
  Device device(1, nullptr);
  import(device, {sand(1.6)});
  // 1.5 is new and would otherwise stand over 1.6, which the file has after it.
  EXPECT_EQ(counts(import(device, {sand(1.5), sand(1.6)})), "2 0 0");
  EXPECT_EQ(density(device), 1.6);
  EXPECT_EQ(counts(import(device, {sand(1.5), sand(1.6)})), "0 2 0");
  EXPECT_EQ(counts(import(device, {sand(1.6), sand(1.5), sand(1.6)})), "0 3 0");
  EXPECT_EQ(density(device), 1.6);
}

TEST(Corrections, TheSameFeatureTwiceInACallIsOne) {
  Device device(1, nullptr);
  EXPECT_EQ(counts(import(device, {seen, seen, sand(1.5), sand(1.5)})), "2 2 0");
}

TEST(Corrections, ValuesDecideAndNotHowTheyAreWritten) {
  Device device(1, nullptr);
  import(device, {feature("fill", R"({"name":"Sand","bulk_density_kg_l":1.50,"stock_kg":100})")});
  EXPECT_EQ(counts(import(device, {feature("fill", R"({"stock_kg":1e2,"bulk_density_kg_l":1.5,
                                                       "name":"S\u0061nd"})")})),
            "0 1 0");
}

TEST(Corrections, AnEventThatSomebodyWithdrewDoesNotReturnWithTheFile) {
  Device device(1, nullptr);
  import(device, {seen});
  const auto digest = device.state().patches.at(0).sightings.at(0).source.digest;
  ASSERT_TRUE(device.recorder().withdraw(digest, "a shadow"));
  EXPECT_EQ(counts(import(device, {seen})), "0 1 0");
  EXPECT_TRUE(device.state().patches.empty());
}

TEST(Corrections, ACorrectionOfAnotherDeviceCountsAsTheLivingOne) {
  Device shed(1, nullptr);
  Device tablet(2, &shed);
  import(shed, {sand(1.5)});
  tablet.takeAll(shed);
  import(tablet, {sand(1.6)});
  shed.takeAll(tablet);
  EXPECT_EQ(counts(import(shed, {sand(1.6)})), "0 1 0");
  EXPECT_EQ(counts(import(shed, {sand(1.5)})), "1 0 0");
}

TEST(Corrections, ANameThatWasWithdrawnIsNoLongerThere) {
  Device device(1, nullptr);
  import(device, {feature("green", R"({"name":"North"})", square(0, 0, 20))});
  const auto digest = device.state().greens.at(0).source.digest;
  ASSERT_TRUE(device.recorder().withdraw(digest, ""));
  EXPECT_EQ(counts(import(
                device, {feature("mowing", R"({"green":"North","done":"2027-04-12T06:00:00Z"})")})),
            "0 0 1");
}

}  // namespace
}  // namespace swardwalk::interchange
