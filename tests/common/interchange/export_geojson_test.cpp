#include <gtest/gtest.h>

#include <algorithm>
#include <boost/json.hpp>

#include "common/course/json.h"
#include "tests/common/interchange/files.h"

namespace swardwalk::interchange {
namespace {

namespace json = boost::json;
using course::Device;
using course::point;

/// The features of a collection in canonical form, sorted.
std::vector<std::string> featuresOf(const std::string& text) {
  course::JsonReader reader;
  const auto value = reader.read(text);
  if (!value) throw std::runtime_error(value.error().text());
  std::vector<std::string> features;
  for (const json::value& one : (*value)->at("features").as_array())
    features.push_back(course::canonicalJson(one));
  std::sort(features.begin(), features.end());
  return features;
}

std::string exported(Device& device) { return exportGeoJson(device.journal()).value(); }

/// What the state says, as far as the file carries it: everything that a record's own
/// identity does not enter.
std::string summary(Device& device) {
  const course::CourseState state = device.state();
  std::string text = fmt::format("{} {}", state.course.name, state.greens.size());
  for (const course::Patch& patch : state.patches) {
    text += fmt::format(" {}/{}/{}", patch.id, patch.green, fmt::join(patch.joined, "+"));
    for (const course::Sighting& sighting : patch.sightings)
      text += fmt::format(" {}", sighting.seen.time_since_epoch().count());
    text += fmt::format(" {}", patch.repairs.size());
  }
  for (const auto& fill : state.fills) text += fmt::format(" {}", fill.bulkDensity_kg_l);
  return text;
}

TEST(ExportGeoJson, GivesEveryFeatureBackAsItCame) {
  Device device(1, nullptr);
  import(device, allRoles());
  EXPECT_EQ(featuresOf(exported(device)), featuresOf(collection(allRoles())));
}

TEST(ExportGeoJson, ImportingAnExportGivesTheSameStateAndAddsNothingAgain) {
  Device device(1, nullptr);
  import(device, allRoles());
  import(device, {feature("fill", R"({"name":"Medium sand","bulk_density_kg_l":1.61})")});
  const std::string file = exported(device);
  Device fresh(2, nullptr);
  const auto first = importCourseFiles(fresh.journal(), {{"a", file}}, {});
  EXPECT_EQ(counts(*first), fmt::format("{} 0 0", allRoles().size()));
  EXPECT_EQ(summary(fresh), summary(device));
  // Things with a name are taken first, so that lines may stand elsewhere.
  EXPECT_EQ(featuresOf(exported(fresh)), featuresOf(file));
  const auto again = importCourseFiles(fresh.journal(), {{"a", file}}, {});
  EXPECT_EQ(counts(*again), fmt::format("0 {} 0", allRoles().size()));
  const auto back = importCourseFiles(device.journal(), {{"a", file}}, {});
  EXPECT_EQ(counts(*back), fmt::format("0 {} 0", allRoles().size()));
}

TEST(ExportGeoJson, KeepsWhatItDoesNotKnowAndEveryDigit) {
  Device device(1, nullptr);
  const std::string strange =
      feature("closed", R"({"patch":"N1","seen":"2027-04-11T06:00:00+02:00","ours":
        {"list":[0.1,1e-7,52.037356567046004,12345678901234567890,null,true],"text":"é \" \\ \u0007"}})");
  const std::string seen =
      feature("sighting", R"({"patch":"N1","kind":"bare","seen":"2027-04-10T06:00:00Z"})",
              R"({"type":"Point","coordinates":[5.123456789012345,52.1,-3.25]})");
  EXPECT_EQ(counts(import(device, {seen, strange})), "2 0 0");
  EXPECT_EQ(featuresOf(exported(device)), featuresOf(collection({seen, strange})));
}

TEST(ExportGeoJson, LeavesOutWhatWasCorrectedWithdrawnOrCannotBeUsed) {
  Device device(1, nullptr);
  const auto fill = [](double density) {
    return feature("fill", fmt::format(R"({{"name":"Sand","bulk_density_kg_l":{}}})", density));
  };
  const std::string seen = feature(
      "sighting", R"({"patch":"N1","kind":"bare","seen":"2027-04-10T06:00:00Z"})", point(3, 3));
  import(device, {fill(1.5), fill(1.6), seen,
                  feature("closed", R"({"patch":"N1","seen":"2027-04-12T06:00:00Z"})")});
  EXPECT_EQ(featuresOf(exported(device)).size(), 3u);
  const auto digest = device.state().patches.at(0).sightings.at(0).source.digest;
  ASSERT_TRUE(device.recorder().withdraw(digest, ""));
  EXPECT_EQ(featuresOf(exported(device)), featuresOf(collection({fill(1.6)})))
      << "closed names a patch that nobody made now";
}

TEST(ExportGeoJson, AnEmptyJournalGivesAnEmptyCollection) {
  Device device(1, nullptr);
  EXPECT_TRUE(featuresOf(exported(device)).empty());
}

}  // namespace
}  // namespace swardwalk::interchange
