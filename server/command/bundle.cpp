#include <SQLiteCpp/Database.h>

#include <boost/json.hpp>
#include <map>

#include "common/course/course_fold.h"
#include "common/journal/folder.h"
#include "common/version.h"
#include "server/command/commands.h"
#include "server/command/files.h"

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
