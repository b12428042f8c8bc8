#include <boost/json.hpp>
#include <cctype>

#include "common/course/course_fold.h"
#include "common/course/recorder.h"
#include "common/journal/folder.h"
#include "server/command/commands.h"
#include "server/command/csv.h"

namespace swardwalk::server {
namespace {

constexpr std::size_t shortestPrefix = 8;

Result<journal::OriginInfo> findOrigin(const journal::Journal& journal, std::string prefix) {
  for (char& c : prefix) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  if (prefix.size() < shortestPrefix) {
    return fail(FailureKind::invalid, prefix, "this is too short to name an origin",
                "give 8 or more of its digits");
  }
  std::optional<journal::OriginInfo> found;
  for (const journal::OriginInfo& info : journal.origins()) {
    if (!journal::hex(info.origin).starts_with(prefix)) continue;
    if (found) {
      return fail(FailureKind::invalid, prefix, "several origins begin like this",
                  "give more of its digits");
    }
    found = info;
  }
  if (!found) {
    return fail(FailureKind::notFound, prefix, "no record of such an origin is here",
                "exchange with it first, or look at its digits");
  }
  return *found;
}

}  // namespace

int runAccept(const CommandLine& line, Console& console) {
  course::CourseFold fold;
  auto journal = journal::openFolder(line.data, journal::Missing::refuse, fold);
  if (!journal) return refuse(console, journal.error());
  const auto info = findOrigin(*journal, line.origin);
  if (!info) return refuse(console, info.error());

  if (!info->accepted) {
    course::Recorder recorder(*journal, {}, console.now_ms);
    const auto accepted = recorder.accept(info->origin);
    if (!accepted) return refuse(console, accepted.error());
  }
  const std::string origin = journal::hex(info->origin);
  const std::string records = std::to_string(info->records);
  switch (line.format) {
    case Format::text:
      console.out << origin
                  << (info->accepted ? " was accepted before" : " is accepted from now on") << ", "
                  << records << (info->records == 1 ? " record" : " records") << '\n';
      break;
    case Format::json:
      console.out << boost::json::serialize(
                         boost::json::object{{"accepted", origin}, {"records", info->records}})
                  << '\n';
      break;
    case Format::csv:
      console.out << csvLine({"accepted", "records"}) << csvLine({origin, records});
      break;
  }
  return 0;
}

}  // namespace swardwalk::server
