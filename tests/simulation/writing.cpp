#include "tests/simulation/writing.h"

#include <fmt/format.h>

#include <iterator>

#include "common/course/course_fold.h"

namespace swardwalk::simulation {

namespace {

const char* const patches[] = {"N1", "N2", "S1", "7f3a"};

struct Written {
  const char* type;
  std::uint16_t version;
  const char* body;  ///< {0} is a patch, {1} a number
};

constexpr Written sensible[] = {
    {"green", 1,
     R"({{"geometry":{{"type":"Polygon","coordinates":[[[8,50],[8.0003,50],[8.0003,50.0002],[8,50]]]}},"properties":{{"name":"{0}"}}}})"},
    {"sighting", 1,
     R"({{"geometry":null,"properties":{{"patch":"{0}","kind":"bare","seen":"2027-04-12T06:40:00Z","length_m":1.{1},"width_m":0.8}}}})"},
    {"sighting", 1,
     R"({{"geometry":null,"properties":{{"patch":"{0}","kind":"washed","seen":"2027-04-13T06:40:00Z","area_m2":0.{1}}}}})"},
    {"closed", 1,
     R"({{"geometry":null,"properties":{{"patch":"{0}","seen":"2027-05-02T06:40:00Z","note":"{1}"}}}})"},
    {"repair", 1,
     R"({{"geometry":null,"properties":{{"patch":"{0}","done":"2027-04-14T08:00:00Z","raked_back":true,"note":"{1}"}}}})"},
    {"rain", 1, R"({{"geometry":null,"properties":{{"on":"2027-04-11","mm":{1}}}}})"},
};

// Within the envelope's limits, and wrong all the same.
constexpr Written senseless[] = {
    {"sighting", 1,
     R"({{"geometry":null,"properties":{{"patch":"{0}","kind":"bare","seen":"2027-04-12T06:40:00Z","area_m2":-{1}}}}})"},
    {"sighting", 1, "no JSON at all {1}"},
    {"closed", 1, "[{1}]"},
    {"repair", 1, R"({{"geometry":null,"properties":{{}}}})"},
    {"withdraw", 1, R"({{"geometry":null,"properties":{{"record":"{1}"}}}})"},
    {"accept", 1, R"({{"geometry":null,"properties":{{"origin":"nobody {1}"}}}})"},
    {"erase", 1, R"({{"geometry":null,"properties":{{"record":"nothing {1}"}}}})"},
    {"origin", 1, R"({{"geometry":null,"properties":{{"course":"another"}}}})"},
};

constexpr Written ofTheFuture[] = {
    {"drainage", 1, R"({{"geometry":null,"properties":{{"patch":"{0}","pipes":{1}}}}})"},
    {"sighting", 2, R"({{"geometry":null,"properties":{{"spot":"{0}","look":{1}}}}})"},
};

std::optional<Failure> anyBody(const boost::json::object&) { return std::nullopt; }
std::string noSubject(const boost::json::object&) { return ""; }

std::vector<course::RecordType> makeTypes(Build build) {
  std::vector<course::RecordType> types;
  for (course::RecordType type : course::recordTypes()) {
    // What decides which records count at all was there from the beginning.
    if (build == Build::older && (type.type == "repair" || type.type == "closed")) continue;
    if (build == Build::newer && type.type == "sighting") {
      type.version = 2;
      type.check = anyBody;
      type.moment = "";
    }
    types.push_back(type);
  }
  if (build == Build::newer)
    types.push_back({"drainage", 1, true, course::RecordType::Sort::event, "Pipes under a green.",
                     anyBody, noSubject, nullptr, ""});
  return types;
}

template <std::size_t Size>
const Written& oneOf(const Written (&all)[Size], Random& random) {
  return all[random.below(Size)];
}

}  // namespace

const std::vector<course::RecordType>& typesOf(Build build) {
  static const std::vector<course::RecordType> all[buildCount] = {
      makeTypes(Build::older), makeTypes(Build::present), makeTypes(Build::newer)};
  return all[static_cast<int>(build)];
}

int foldVersionOf(Build build) {
  const int present = course::CourseFold().version();
  switch (build) {
    case Build::older:
      return present - 1;
    case Build::present:
      return present;
    case Build::newer:
      return present + 1;
  }
  return present;
}

journal::Draft drawDraft(Random& random, Build build) {
  const Written* written = &oneOf(sensible, random);
  if (random.chance(12)) written = &oneOf(senseless, random);
  if (build == Build::newer && random.chance(25)) written = &oneOf(ofTheFuture, random);
  const char* patch = patches[random.below(std::size(patches))];
  journal::Draft draft;
  draft.type = written->type;
  draft.version = written->version;
  draft.subject = patch;
  draft.body = fmt::format(fmt::runtime(written->body), patch, 1 + random.below(9));
  return draft;
}

}  // namespace swardwalk::simulation
