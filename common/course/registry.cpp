#include "common/course/registry.h"

#include <fmt/format.h>

#include <boost/json.hpp>

#include "common/course/json.h"
#include "common/course/rules.h"
#include "common/journal/digest.h"
#include "common/measure/instant.h"

namespace swardwalk::course {

namespace json = boost::json;

namespace {

using Body = const json::object&;
using Sort = RecordType::Sort;

template <const Rule& rule>
Trouble checkBy(Body body) {
  return checkRule(rule, body);
}

/// The journal writes and reads it itself; the course has nothing to say about it.
Trouble anything(Body) { return std::nullopt; }

std::string property(Body body, std::string_view key) {
  const json::object* properties = propertiesOf(body);
  return properties == nullptr ? std::string() : std::string(textOf(*properties, key));
}

std::string nothing(Body) { return {}; }
std::string name(Body body) { return property(body, "name"); }
std::string patch(Body body) { return property(body, "patch"); }
std::string green(Body body) { return property(body, "green"); }
std::string recordNamed(Body body) { return property(body, "record"); }
std::string originNamed(Body body) { return property(body, "origin"); }
std::string personNamed(Body body) { return property(body, "id"); }

std::string patchOrGreen(Body body) {
  std::string subject = patch(body);
  return subject.empty() ? green(body) : subject;
}

std::string greenAndZone(Body body) {
  return property(body, "green") + keySeparator + property(body, "zone");
}

std::vector<RecordType> makeTypes() {
  const Sort named = Sort::named;
  const Sort event = Sort::event;
  const Sort keeping = Sort::keeping;
  return {
      {"course", 1, true, named, "The course: its name, time zone, dates, limits and settings.",
       checkBy<courseRule>, name, name, ""},
      {"green", 1, true, named, "A green with its outline.", checkBy<greenRule>, name, name, ""},
      {"surround", 1, true, named, "A zone round a green: collar, apron or bank.",
       checkBy<surroundRule>, green, greenAndZone, ""},
      {"mark", 1, true, named, "A fixed point that can be found again.", checkBy<markRule>, name,
       name, ""},
      {"sighting", 1, true, event, "One look at one patch.", checkBy<sightingRule>, patch, nullptr,
       "seen"},
      {"frame", 1, true, event, "A counting frame thrown at random over a green.",
       checkBy<frameRule>, green, nullptr, "seen"},
      {"closed", 1, true, event, "Somebody looked, and the patch is closed.", checkBy<closedRule>,
       patch, nullptr, "seen"},
      {"repair", 1, true, event, "What was done to a patch or a green.", checkBy<repairRule>,
       patchOrGreen, nullptr, "done"},
      {"came_up", 1, true, event, "What was sown on a patch is up.", checkBy<cameUpRule>, patch,
       nullptr, "seen"},
      {"choice", 1, true, event, "How somebody wants a patch mended.", checkBy<choiceRule>, patch,
       nullptr, ""},
      {"photo", 1, true, event, "A picture of a patch, named by its digest.", checkBy<photoRule>,
       patch, nullptr, "seen"},
      {"rain", 1, true, event, "Rain on a day or over a span.", checkBy<waterRule>, nothing,
       nullptr, "from"},
      {"watering", 1, true, event, "Water given on a day or over a span.", checkBy<waterRule>,
       nothing, nullptr, "from"},
      {"temperature", 1, true, event, "The coldest and warmest of a day.", checkBy<temperatureRule>,
       nothing, nullptr, ""},
      {"mowing", 1, true, event, "A green was mown.", checkBy<mowingRule>, green, nullptr, "done"},
      {"feeding", 1, true, event, "A whole green was fed.", checkBy<feedingRule>, green, nullptr,
       "done"},
      {"seed_lot", 1, true, named, "A lot of seed with its test and stock.", checkBy<seedLotRule>,
       name, name, ""},
      {"feed", 1, true, named, "A feed with its analysis, rates and stock.", checkBy<feedRule>,
       name, name, ""},
      {"fill", 1, true, named, "A material to fill with, and its stock.", checkBy<fillRule>, name,
       name, ""},
      {"turf", 1, true, named, "Turf to lay, and its stock.", checkBy<turfRule>, name, name, ""},
      {"round", 1, true, event, "One walk over a green, with where the walker was.",
       checkBy<roundRule>, green, nullptr, "started"},
      {"join", 1, true, event, "Two patches are one, as somebody decided.", checkBy<joinRule>,
       patch, nullptr, ""},
      {"withdraw", 1, false, keeping, "Takes a record back, another withdrawal, too.",
       checkBy<withdrawRule>, recordNamed, nullptr, ""},
      {"accept", 1, false, keeping, "Says that an origin may be believed.", checkBy<acceptRule>,
       originNamed, nullptr, ""},
      {"erase", 1, false, keeping, "Wants the body of a record erased everywhere, for good.",
       checkBy<eraseRule>, recordNamed, nullptr, ""},
      {"person", 1, false, named, "The name of an author; erased when the person wishes it.",
       checkBy<personRule>, personNamed, personNamed, ""},
      {"origin", 1, false, keeping, "The first record of every origin; the journal's own.",
       anything, nothing, nullptr, ""},
  };
}

Trouble checkOnThisMachine(std::string_view type, Body body) {
  if (type != "course") return std::nullopt;
  const std::string zone = property(body, "time_zone");
  if (zone.empty()) return std::nullopt;
  if (measure::Zone::named(zone)) return std::nullopt;
  return trouble("time_zone", fmt::format("there is no time zone \"{}\"", zone),
                 "name one like \"Europe/London\"");
}

}  // namespace

const std::vector<RecordType>& recordTypes() {
  static const std::vector<RecordType> types = makeTypes();
  return types;
}

const RecordType* findType(std::string_view type) {
  for (const RecordType& candidate : recordTypes()) {
    if (candidate.type == type) return &candidate;
  }
  return nullptr;
}

Result<journal::Draft> draftOf(std::string_view type, const json::object& body) {
  const RecordType* known = findType(type);
  if (known == nullptr) {
    return fail(FailureKind::invalid, "role",
                fmt::format("\"{}\" is not known", type.substr(0, 60)),
                "use one of the roles of the course file");
  }
  Trouble wrong = known->check(body);
  if (!wrong) wrong = checkOnThisMachine(type, body);
  if (wrong) return tl::unexpected(std::move(*wrong));

  // What stands beside geometry and properties is GeoJSON's envelope, not the record's.
  json::object kept(body.storage());
  const json::value* geometry = geometryOf(body);
  kept["geometry"] = geometry == nullptr ? json::value(nullptr) : *geometry;
  kept["properties"] = *propertiesOf(body);
  journal::Draft draft;
  draft.type = type;
  draft.version = static_cast<std::uint16_t>(known->version);
  draft.subject = known->subject(body);
  draft.body = writeJson(kept);
  if (draft.body.size() > journal::limits::bodyBytes) {
    return fail(FailureKind::invalid, "",
                fmt::format("larger than {} KiB", journal::limits::bodyBytes / 1024),
                "use fewer places or shorter texts");
  }
  return draft;
}

journal::Digest featureDigest(std::string_view type, const json::object& body) {
  std::string text(type);
  text += '\n';
  const json::value* geometry = geometryOf(body);
  text += geometry == nullptr ? "null" : canonicalJson(*geometry);
  text += '\n';
  const json::value* properties = present(body, "properties");
  text += properties == nullptr ? "null" : canonicalJson(*properties);
  return journal::blake2b(text);
}

std::string registryTable() {
  std::string table =
      "| type | version | in course files | sort | what it says |\n"
      "| --- | --- | --- | --- | --- |\n";
  for (const RecordType& type : recordTypes()) {
    const char* sort = type.sort == Sort::named   ? "thing with a name"
                       : type.sort == Sort::event ? "event"
                                                  : "keeping";
    table += fmt::format("| `{}` | {} | {} | {} | {} |\n", type.type, type.version,
                         type.inCourseFile ? "yes" : "no", sort, type.what);
  }
  return table;
}

}  // namespace swardwalk::course
