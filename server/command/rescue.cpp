#include "common/journal/rescue.h"

#include <boost/json.hpp>
#include <filesystem>

#include "common/course/course_fold.h"
#include "common/journal/folder.h"
#include "server/command/commands.h"
#include "server/command/csv.h"
#include "server/command/photo_copies.h"

namespace swardwalk::server {

int runRescue(const CommandLine& line, Console& console) {
  const std::string damaged = line.data + "/journal.sqlite";
  std::error_code ignored;
  if (!std::filesystem::exists(damaged, ignored)) {
    return refuse(console, {FailureKind::notFound, line.data, "there is no journal here",
                            "name the directory of the damaged one"});
  }
  if (std::filesystem::exists(line.to + "/journal.sqlite", ignored)) {
    return refuse(console, {FailureKind::refused, line.to, "there is a journal already",
                            "name a new directory"});
  }
  // The new directory gets a new key: what comes after is of a new origin.
  course::CourseFold fold;
  auto into = journal::openFolder(line.to, journal::Missing::make, fold);
  if (!into) return refuse(console, into.error());
  const auto rescued = journal::rescue(damaged, line.to, *into);
  if (!rescued) return refuse(console, rescued.error());
  journal::PhotoFolder newPhotos(line.to);
  const auto photos = copyPhotos(*into, journal::PhotoFolder(line.data), newPhotos);
  if (!photos) return refuse(console, photos.error());

  const std::string records = std::to_string(rescued->records);
  const std::string bodies = std::to_string(rescued->bodies);
  switch (line.format) {
    case Format::text:
      console.out << records << (rescued->records == 1 ? " record" : " records") << " saved, "
                  << bodies << " of them without their text\n";
      break;
    case Format::json:
      console.out << boost::json::serialize(boost::json::object{{"records", rescued->records},
                                                                {"without_body", rescued->bodies}})
                  << '\n';
      break;
    case Format::csv:
      console.out << csvLine({"records", "without_body"}) << csvLine({records, bodies});
      break;
  }
  for (const journal::Finding& finding : rescued->lost) {
    refuse(console, {FailureKind::corrupt, finding.where, finding.what, finding.todo});
  }
  for (const std::string& trouble : photos->troubles) {
    refuse(console, {FailureKind::corrupt, line.data, trouble, ""});
  }
  return rescued->lost.empty() && photos->troubles.empty() ? 0 : 1;
}

}  // namespace swardwalk::server
