#include <boost/json.hpp>

#include "common/course/course_fold.h"
#include "common/journal/backup.h"
#include "common/journal/folder.h"
#include "server/command/commands.h"
#include "server/command/csv.h"
#include "server/command/photo_copies.h"
#include "server/shed/daily_backups.h"

namespace swardwalk::server {
namespace {

/// Those that the journal of the directory names; says which could not be copied. 1 then.
int copyNamedPhotos(const CommandLine& line, Console& console, const journal::PhotoFolder& from,
                    journal::PhotoFolder to) {
  course::CourseFold fold;
  journal::JournalOptions options;
  options.readOnly = true;
  const auto journal = journal::openFolder(line.data, journal::Missing::refuse, fold, options);
  if (!journal) return refuse(console, journal.error());
  const auto copies = copyPhotos(*journal, from, to);
  if (!copies) return refuse(console, copies.error());
  int status = 0;
  for (const std::string& trouble : copies->troubles) {
    status = refuse(console, {FailureKind::corrupt, line.data, trouble, ""});
  }
  return status;
}

}  // namespace

int runBackup(const CommandLine& line, Console& console) {
  course::CourseFold fold;
  const auto report = journal::backUp(line.data, line.to, fold);
  if (!report) return refuse(console, report.error());
  const int status =
      copyNamedPhotos(line, console, journal::PhotoFolder(line.data), photosBeside(line.to));
  const std::string records = std::to_string(report->records);
  switch (line.format) {
    case Format::text:
      console.out << records << " records are in " << line.to << ", and it is whole\n";
      break;
    case Format::json:
      console.out << boost::json::serialize(boost::json::object{
                         {"file", line.to}, {"records", report->records}, {"whole", report->whole}})
                  << '\n';
      break;
    case Format::csv:
      console.out << csvLine({"file", "records"}) << csvLine({line.to, records});
      break;
  }
  return status;
}

int runRestore(const CommandLine& line, Console& console) {
  course::CourseFold fold;
  const auto aside = journal::restore(line.data, line.backup, fold, console.now_ms());
  if (!aside) return refuse(console, aside.error());
  const int status =
      copyNamedPhotos(line, console, journal::PhotoFolder::at(photosOfBackup(line.backup)),
                      journal::PhotoFolder(line.data));
  const std::string kept =
      aside->empty() ? "there was nothing to replace" : "what was there is kept in " + *aside;
  switch (line.format) {
    case Format::text:
      console.out << line.data << " is restored; " << kept
                  << ". It writes on under a new origin, and every exchange brings back what came "
                     "after the backup.\n";
      break;
    case Format::json:
      console.out << boost::json::serialize(boost::json::object{
                         {"restored", line.data},
                         {"replaced", aside->empty() ? boost::json::value(nullptr)
                                                     : boost::json::value(*aside)}})
                  << '\n';
      break;
    case Format::csv:
      console.out << csvLine({"restored", "replaced"}) << csvLine({line.data, *aside});
      break;
  }
  return status;
}

}  // namespace swardwalk::server
