#include <SQLiteCpp/Database.h>

#include <boost/json.hpp>
#include <filesystem>

#include "common/course/course_fold.h"
#include "common/journal/folder.h"
#include "common/version.h"
#include "server/command/commands.h"
#include "server/command/files.h"
#include "server/command/shed_log.h"
#include "server/door/people.h"

namespace swardwalk::server {
namespace {

namespace json = boost::json;

/// The keys of origins are nobody's name; still a few digits are enough to tell them apart.
std::string shortKey(const journal::OriginKey& origin) { return journal::hex(origin.data(), 4); }

json::array originsOf(const journal::Journal& journal) {
  json::array origins;
  for (const journal::OriginInfo& info : journal.origins()) {
    origins.push_back(json::object{{"origin", shortKey(info.origin)},
                                   {"accepted", info.accepted},
                                   {"records", info.records},
                                   {"branches", info.branches}});
  }
  return origins;
}

/// Each record's shape, without subject, author and body: enough to make a journal of the
/// same form.
Result<json::array> recordsOf(const journal::Journal& journal) {
  json::array records;
  const auto read = journal.forEach([&](const journal::Record& record) {
    records.push_back(json::array{
        shortKey(record.origin), record.number, record.counter, record.content.wall_ms,
        record.content.type, record.content.version, record.content.body.size(), record.erased});
    return true;
  });
  if (!read) return tl::unexpected(read.error());
  return records;
}

/// Every word of a name that this course or its door knows: of people, devices, patches and
/// whatever else its records call by name.
std::unordered_set<std::string> wordsOfNames(const journal::Journal& journal,
                                             const std::string& directory) {
  std::unordered_set<std::string> words;
  // Of a damaged journal the names that can be read.
  static_cast<void>(journal.forEach([&](const journal::Record& record) {
    addWords(record.content.subject, words);
    boost::system::error_code error;
    const json::value body = json::parse(record.content.body, error);
    const auto* properties =
        error || !body.is_object() ? nullptr : body.get_object().if_contains("properties");
    if (!properties || !properties->is_object()) return true;
    for (const char* key : {"name", "author", "device", "patch", "label", "green", "mark", "by"}) {
      const auto* name = properties->get_object().if_contains(key);
      if (name && name->is_string())
        addWords({name->get_string().data(), name->get_string().size()}, words);
    }
    return true;
  }));
  std::error_code none;
  if (!std::filesystem::exists(directory + "/door.sqlite", none)) return words;
  if (auto door = DoorFile::open(directory)) {
    if (const auto people = People(**door).all())
      for (const Person& person : *people) addWords(person.name, words);
  }
  return words;
}

json::array logOf(const journal::Journal& journal, const std::string& directory) {
  constexpr std::size_t mostLines = 2000;
  json::array log;
  const std::vector<std::string> lines = newestLogLines(directory, mostLines);
  if (lines.empty()) return log;
  const auto words = wordsOfNames(journal, directory);
  for (const std::string& line : lines) log.emplace_back(scrubbed(line, words));
  return log;
}

/// Findings without the path of this machine.
json::array findingsOf(const journal::CheckReport& report, const std::string& directory) {
  json::array findings;
  for (const journal::Finding& finding : report.findings) {
    const bool isPath = finding.where.starts_with(directory);
    findings.push_back(
        json::object{{"where", isPath ? "journal" : finding.where}, {"what", finding.what}});
  }
  return findings;
}

}  // namespace

int runBundle(const CommandLine& line, Console& console) {
  course::CourseFold fold;
  journal::JournalOptions options;
  options.readOnly = true;
  const auto journal = journal::openFolder(line.data, journal::Missing::refuse, fold, options);
  if (!journal) return refuse(console, journal.error());
  const auto report = journal->check();
  if (!report) return refuse(console, report.error());
  json::object bundle{
      {"version", versionText},
      {"sqlite", SQLite::getLibVersion()},
      {"fold", fold.version()},
      {"whole", report->whole},
      {"state_matches", report->stateMatches},
      {"findings", findingsOf(*report, line.data)},
      {"origins", originsOf(*journal)},
      {"log", logOf(*journal, line.data)},
      {"record_fields",
       {"origin", "number", "counter", "wall_ms", "type", "version", "body_bytes", "erased"}}};
  // Of a damaged journal the findings are what there is.
  if (auto records = recordsOf(*journal)) bundle["records"] = std::move(*records);
  const auto written =
      replaceFile(line.to, [&](const auto& emit) { return emit(json::serialize(bundle) + "\n"); });
  if (!written) return refuse(console, written.error());
  console.err << line.to << ": written; it holds no names, places or texts\n";
  return 0;
}

}  // namespace swardwalk::server
