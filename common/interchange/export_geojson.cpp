#include <algorithm>
#include <boost/json.hpp>
#include <set>

#include "common/course/checks.h"
#include "common/course/json.h"
#include "common/course/registry.h"
#include "common/interchange/course_file.h"
#include "common/interchange/recorded.h"

namespace swardwalk::interchange {

namespace json = boost::json;

namespace {

struct Line {
  course::Source source;
  std::string text;
};

/// Does it name a patch that nobody made? Then it is no part of the state.
bool isOrphan(std::string_view role, const json::object& body, const Names& names) {
  const auto references = referencesOf(role, body);
  return std::any_of(references.begin(), references.end(), [&](const Reference& reference) {
    return reference.what == "patch" && !names.hold(reference);
  });
}

std::string featureLine(std::string_view role, const json::object& body) {
  json::object properties{{"role", role}};
  for (const json::key_value_pair& property : *course::propertiesOf(body))
    properties.emplace(property.key(), property.value());
  const json::value* geometry = course::geometryOf(body);
  return course::writeJson(
      json::object{{"type", "Feature"},
                   {"geometry", geometry == nullptr ? json::value(nullptr) : *geometry},
                   {"properties", std::move(properties)}});
}

}  // namespace

Result<std::string> exportGeoJson(const journal::Journal& journal) {
  const auto recorded = readRecorded(journal);
  if (!recorded) return tl::unexpected(recorded.error());
  std::vector<Line> lines;
  course::JsonReader reader;
  const auto read = course::forEachFolded(journal, [&](const course::FoldedRecord& record) {
    if (record.table != course::FoldedRecord::Table::living || record.withdrawn) return;
    const course::RecordType* type = course::findType(record.type);
    if (type == nullptr || !type->inCourseFile) return;
    if (record.nameKey) {
      const auto last = recorded->last.find(Recorded::keyOf(record.type, *record.nameKey));
      if (last == recorded->last.end() || last->second.source.digest != record.source.digest)
        return;
    }
    const auto value = reader.read(record.body);
    if (!value || !(*value)->is_object()) return;
    const json::object& body = (*value)->get_object();
    if (course::propertiesOf(body) == nullptr || isOrphan(record.type, body, recorded->names))
      return;
    lines.push_back({record.source, featureLine(record.type, body)});
  });
  if (!read) return tl::unexpected(read.error());
  // In the order of recording, so that an import of it corrects in the same order.
  std::sort(lines.begin(), lines.end(),
            [](const Line& a, const Line& b) { return a.source.order() < b.source.order(); });
  std::string text = "{\"type\":\"FeatureCollection\",\"features\":[";
  const char* between = "\n";
  for (const Line& line : lines) {
    text += between;
    text += line.text;
    between = ",\n";
  }
  text += "\n]}\n";
  return text;
}

}  // namespace swardwalk::interchange
