#include <boost/json.hpp>

#include "common/course/course_fold.h"
#include "common/course/erasing.h"
#include "common/course/photos.h"
#include "common/journal/folder.h"
#include "server/command/commands.h"
#include "server/command/csv.h"

namespace swardwalk::server {

int runErase(const CommandLine& line, Console& console) {
  course::CourseFold fold;
  auto journal = journal::openFolder(line.data, journal::Missing::refuse, fold);
  if (!journal) return refuse(console, journal.error());
  const auto before = course::namedPhotos(*journal);
  if (!before) return refuse(console, before.error());
  const auto erased = course::erase(*journal, line.id, console.now_ms());
  if (!erased) return refuse(console, erased.error());
  const auto now = course::namedPhotos(*journal);
  if (!now) return refuse(console, now.error());
  journal::PhotoFolder photos(line.data);
  course::dropErased(photos, *before, *now);
  const std::string records = std::to_string(erased->records);
  const std::string rewritten = std::to_string(erased->rewritten);
  switch (line.format) {
    case Format::text:
      if (erased->records == 0) {
        console.out << "erased before\n";
        break;
      }
      console.out << records << (erased->records == 1 ? " body is" : " bodies are")
                  << " erased here, and elsewhere with the next exchange; " << rewritten
                  << " of them stand again without the name\n";
      break;
    case Format::json:
      console.out << boost::json::serialize(boost::json::object{{"erased", erased->records},
                                                                {"rewritten", erased->rewritten}})
                  << '\n';
      break;
    case Format::csv:
      console.out << csvLine({"erased", "rewritten"}) << csvLine({records, rewritten});
      break;
  }
  return 0;
}

}  // namespace swardwalk::server
