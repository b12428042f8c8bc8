#pragma once

#include <fmt/format.h>

#include <initializer_list>
#include <string>
#include <string_view>

#include "common/interchange/course_file.h"
#include "tests/common/course/devices.h"

namespace swardwalk::interchange {

/// One feature as a course file has it; `properties` without its role.
inline std::string feature(std::string_view role, std::string_view properties,
                           std::string_view geometry = "null") {
  const std::string_view rest = properties.substr(properties.find('{') + 1);
  return fmt::format(R"({{"type":"Feature","geometry":{},"properties":{{"role":"{}",{}}})",
                     geometry, role, rest);
}

inline std::string collection(const std::vector<std::string>& features) {
  return fmt::format(R"({{"type":"FeatureCollection","features":[{}]}})",
                     fmt::join(features, ",\n"));
}

/// One of each role, as course::goodFeatures.
inline std::vector<std::string> allRoles() {
  std::vector<std::string> features;
  for (const course::GoodFeature& good : course::goodFeatures())
    features.push_back(feature(good.role, good.properties, good.geometry));
  return features;
}

/// Imports one file of these features.
inline ImportTally import(course::Device& device, const std::vector<std::string>& features,
                          bool skipBad = false) {
  ImportOptions options;
  options.skipBad = skipBad;
  options.wall_ms = 1'800'000'000'000;
  auto tally =
      importCourseFiles(device.journal(), {{"course.geojson", collection(features)}}, options);
  if (!tally) throw std::runtime_error(tally.error().text());
  return std::move(*tally);
}

/// "new, known, refused".
inline std::string counts(const ImportTally& tally) {
  return fmt::format("{} {} {}", tally.added, tally.known, tally.refused);
}

}  // namespace swardwalk::interchange
