#include <boost/json.hpp>

#include "common/course/course_fold.h"
#include "common/journal/folder.h"
#include "common/journal/photo_folder.h"
#include "server/command/commands.h"
#include "server/command/csv.h"

namespace swardwalk::server {
namespace {

namespace json = boost::json;

std::string checkJson(const journal::CheckReport& report) {
  json::array findings;
  for (const journal::Finding& finding : report.findings) {
    findings.push_back(
        json::object{{"where", finding.where}, {"what", finding.what}, {"do", finding.todo}});
  }
  return json::serialize(json::object{{"whole", report.whole},
                                      {"records", report.records},
                                      {"origins", report.origins},
                                      {"state_matches", report.stateMatches},
                                      {"findings", std::move(findings)}});
}

void printText(std::ostream& out, const journal::CheckReport& report) {
  out << report.records << (report.records == 1 ? " record of " : " records of ") << report.origins
      << (report.origins == 1 ? " origin" : " origins") << '\n'
      << (report.whole ? "The journal is whole" : "The journal is not whole") << '\n'
      << (report.stateMatches ? "The state is what the records say"
                              : "The state is not what the records say")
      << '\n';
}

/// Every picture that is here against its name.
Result<void> checkPhotos(const journal::PhotoFolder& photos,
                         std::vector<journal::Finding>& findings) {
  const auto all = photos.all();
  if (!all) return tl::unexpected(all.error());
  for (const journal::Digest& photo : *all) {
    const auto bytes = photos.read(photo);
    if (!bytes) findings.push_back({bytes.error().where, bytes.error().what, bytes.error().todo});
  }
  return {};
}

}  // namespace

int runCheck(const CommandLine& line, Console& console) {
  course::CourseFold fold;
  journal::JournalOptions options;
  options.readOnly = true;
  const auto journal = journal::openFolder(line.data, journal::Missing::refuse, fold, options);
  if (!journal) return refuse(console, journal.error());
  auto report = journal->check();
  if (!report) return refuse(console, report.error());
  if (auto looked = checkPhotos(journal::PhotoFolder(line.data), report->findings); !looked) {
    return refuse(console, looked.error());
  }

  switch (line.format) {
    case Format::text:
      printText(console.out, *report);
      break;
    case Format::json:
      console.out << checkJson(*report) << '\n';
      break;
    case Format::csv:
      console.out << csvLine({"where", "what", "do"});
      for (const auto& finding : report->findings) {
        console.out << csvLine({finding.where, finding.what, finding.todo});
      }
      break;
  }
  for (const auto& finding : report->findings) {
    refuse(console, {FailureKind::corrupt, finding.where, finding.what, finding.todo});
  }
  return report->whole && report->stateMatches && report->findings.empty() ? 0 : 1;
}

}  // namespace swardwalk::server
