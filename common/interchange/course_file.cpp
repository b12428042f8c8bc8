#include "common/interchange/course_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <boost/json.hpp>

#include "common/course/checks.h"
#include "common/course/json.h"
#include "common/course/registry.h"
#include "common/interchange/recorded.h"

namespace swardwalk::interchange {

namespace json = boost::json;

namespace {

/// A feature of a file that passed its own check.
struct Candidate {
  std::string where;
  journal::Draft draft;
  journal::Digest feature{};
  std::string nameKey;  ///< as Recorded::keyOf; empty for an event
  std::vector<Reference> references;
  bool refused = false;
};

class Import {
 public:
  explicit Import(Recorded recorded) : recorded_(std::move(recorded)) {}

  void read(const SourceFile& file);
  /// Refuses what leans on names that are nowhere, and what leans on that.
  void checkReferences();
  /// Counts, and gives what must be written: things with a name first, then events, each in
  /// the order of the call.
  std::vector<journal::Draft> choose();

  ImportTally tally;

 private:
  void readFeature(const json::value& value, const std::string& where);
  void refuse(Failure failure) {
    ++tally.refused;
    tally.refusals.push_back(std::move(failure));
  }
  void refuse(const std::string& where, std::string what, std::string todo) {
    refuse({FailureKind::invalid, where, std::move(what), std::move(todo)});
  }
  void take(Candidate& candidate, std::vector<journal::Draft>& drafts);

  Recorded recorded_;
  std::vector<Candidate> candidates_;
};

const char* const wholeCollection = "give a GeoJSON FeatureCollection as RFC 7946 describes it";

void Import::read(const SourceFile& file) {
  if (file.bytes.size() > limits::courseFileBytes) {
    refuse(file.name, fmt::format("larger than {} MiB", limits::courseFileBytes >> 20),
           "split it into several files");
    return;
  }
  std::string_view text = file.bytes;
  // Some editors begin UTF-8 with a mark of their own.
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
  course::JsonReader reader;
  const auto value = reader.read(text);
  if (!value) {
    Failure failure = value.error();
    failure.where = fmt::format("{}, {}", file.name, failure.where);
    refuse(std::move(failure));
    return;
  }
  const json::object* collection = (*value)->if_object();
  if (collection == nullptr || course::textOf(*collection, "type") != "FeatureCollection") {
    refuse(file.name, "not a FeatureCollection", wholeCollection);
    return;
  }
  const json::value* features = course::present(*collection, "features");
  if (features == nullptr || !features->is_array()) {
    refuse(file.name, "it has no list of features", wholeCollection);
    return;
  }
  std::size_t index = 0;
  for (const json::value& feature : features->get_array())
    readFeature(feature, fmt::format("{}, feature {}", file.name, ++index));
}

void Import::readFeature(const json::value& value, const std::string& where) {
  const json::object* feature = value.if_object();
  if (feature == nullptr || course::textOf(*feature, "type") != "Feature")
    return refuse(where, "not a Feature", wholeCollection);
  const json::object* properties = course::propertiesOf(*feature);
  if (properties == nullptr)
    return refuse(where, "properties are missing", "give them with a role");
  const json::value* role = course::present(*properties, "role");
  if (role == nullptr || !role->is_string())
    return refuse(where + ", role", "missing", "say what the feature is");
  const std::string type(role->get_string());
  const course::RecordType* known = course::findType(type);
  if (known == nullptr || !known->inCourseFile) {
    return refuse(where + ", role", fmt::format("\"{}\" is not known", type.substr(0, 60)),
                  "use one of the roles of the course file");
  }

  json::object kept = *properties;
  // The other members keep their order: a file that goes round stays the same text.
  kept.stable_erase("role");
  json::object body;
  const json::value* geometry = course::geometryOf(*feature);
  body["geometry"] = geometry == nullptr ? json::value(nullptr) : *geometry;
  body["properties"] = std::move(kept);
  auto draft = course::draftOf(type, body);
  if (!draft) {
    Failure failure = std::move(draft.error());
    failure.where = failure.where.empty() ? where : fmt::format("{}, {}", where, failure.where);
    return refuse(std::move(failure));
  }
  Candidate candidate;
  candidate.where = where;
  candidate.draft = std::move(*draft);
  candidate.feature = course::featureDigest(type, body);
  if (known->nameKey != nullptr) candidate.nameKey = Recorded::keyOf(type, known->nameKey(body));
  candidate.references = referencesOf(type, body);
  candidates_.push_back(std::move(candidate));
}

void Import::checkReferences() {
  for (bool changed = true; changed;) {
    changed = false;
    Names names = recorded_.names;
    for (const Candidate& candidate : candidates_) {
      if (!candidate.refused) names.take(candidate.draft.type, candidate.draft.subject);
    }
    for (Candidate& candidate : candidates_) {
      if (candidate.refused) continue;
      for (const Reference& reference : candidate.references) {
        if (names.hold(reference)) continue;
        refuse(fmt::format("{}, {}", candidate.where, reference.property),
               fmt::format("there is no {} \"{}\"", reference.what, reference.name),
               "correct the name, or import what it names in the same call");
        candidate.refused = true;
        changed = true;
        break;
      }
    }
  }
}

void Import::take(Candidate& candidate, std::vector<journal::Draft>& drafts) {
  recorded_.features.insert(candidate.feature);
  if (!candidate.nameKey.empty()) recorded_.last[candidate.nameKey].feature = candidate.feature;
  drafts.push_back(std::move(candidate.draft));
  ++tally.added;
}

std::vector<journal::Draft> Import::choose() {
  std::vector<journal::Draft> drafts;
  // A stock in a file was counted before what the same files say was used of it.
  std::stable_partition(candidates_.begin(), candidates_.end(),
                        [](const Candidate& candidate) { return !candidate.nameKey.empty(); });
  // The last version of each named thing in the call is the one that must be left living.
  std::map<std::string_view, const Candidate*> wanted;
  for (const Candidate& candidate : candidates_) {
    if (!candidate.refused && !candidate.nameKey.empty()) wanted[candidate.nameKey] = &candidate;
  }
  for (Candidate& candidate : candidates_) {
    if (candidate.refused) continue;
    bool isNew = !recorded_.features.contains(candidate.feature);
    if (!isNew && !candidate.nameKey.empty() && wanted[candidate.nameKey] == &candidate) {
      // Recorded before, but another version came after it: a correction back.
      const auto last = recorded_.last.find(candidate.nameKey);
      isNew = last == recorded_.last.end() || last->second.feature != candidate.feature;
    }
    if (isNew) {
      take(candidate, drafts);
    } else {
      ++tally.known;
    }
  }
  return drafts;
}

}  // namespace

Result<ImportTally> importCourseFiles(journal::Journal& journal,
                                      const std::vector<SourceFile>& files,
                                      const ImportOptions& options) {
  if (!journal.course()) {
    return fail(FailureKind::refused, "the journal", "it belongs to no course yet",
                "found a course first");
  }
  auto recorded = readRecorded(journal);
  if (!recorded) return tl::unexpected(std::move(recorded.error()));
  Import import(std::move(*recorded));
  for (const SourceFile& file : files) import.read(file);
  import.checkReferences();
  std::vector<journal::Draft> drafts = import.choose();
  if (import.tally.refused > 0 && !options.skipBad) {
    import.tally.added = 0;
    return std::move(import.tally);
  }
  for (journal::Draft& draft : drafts) {
    draft.author = options.author;
    draft.wall_ms = options.wall_ms;
  }
  if (!drafts.empty()) {
    const auto written = journal.append(drafts);
    if (!written) return tl::unexpected(written.error());
  }
  return std::move(import.tally);
}

}  // namespace swardwalk::interchange
