#include "common/course/course_fold.h"
#include "common/exchange/exchange.h"
#include "common/interchange/course_file.h"
#include "common/journal/folder.h"
#include "server/command/commands.h"
#include "server/command/files.h"

namespace swardwalk::server {
namespace {

using Emit = std::function<Result<void>(std::string_view)>;

Result<void> give(const journal::Journal& journal, const CommandLine& line, Console& console,
                  const Emit& emit) {
  if (line.as == "records") return exchange::writeAll(journal, console.now_ms(), emit);
  const auto features = interchange::exportGeoJson(journal);
  if (!features) return tl::unexpected(features.error());
  return emit(*features);
}

}  // namespace

int runExport(const CommandLine& line, Console& console) {
  if (line.as != "records" && line.as != "geojson") {
    return refuse(console, {FailureKind::refused, line.as, "this version does not write it yet",
                            "use --as geojson or --as records"});
  }
  course::CourseFold fold;
  const auto journal = journal::openFolder(line.data, journal::Missing::refuse, fold);
  if (!journal) return refuse(console, journal.error());

  Result<void> given;
  if (line.to.empty()) {
    given = give(*journal, line, console, [&](std::string_view bytes) -> Result<void> {
      console.out << bytes;
      if (console.out.good()) return {};
      return fail(FailureKind::io, "standard output", "it does not take more", "use --to FILE");
    });
    console.out << std::flush;
  } else {
    given =
        replaceFile(line.to, [&](const Emit& emit) { return give(*journal, line, console, emit); });
  }
  return given ? 0 : refuse(console, given.error());
}

}  // namespace swardwalk::server
