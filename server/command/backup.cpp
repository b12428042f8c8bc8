#include <boost/json.hpp>

#include "common/course/course_fold.h"
#include "common/journal/backup.h"
#include "server/command/commands.h"
#include "server/command/csv.h"

namespace swardwalk::server {

int runBackup(const CommandLine& line, Console& console) {
  course::CourseFold fold;
  const auto report = journal::backUp(line.data, line.to, fold);
  if (!report) return refuse(console, report.error());
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
  return 0;
}

int runRestore(const CommandLine& line, Console& console) {
  course::CourseFold fold;
  const auto aside = journal::restore(line.data, line.backup, fold, console.now_ms());
  if (!aside) return refuse(console, aside.error());
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
  return 0;
}

}  // namespace swardwalk::server
