// A course file into a blank journal: what is taken is a whole journal, whose export is taken
// by another one without a refusal, and what is refused is refused in words.
#include <cstdint>
#include <cstdlib>
#include <string>

#include "common/course/course_fold.h"
#include "common/interchange/course_file.h"
#include "common/journal/journal.h"
#include "tests/common/journal/virtual_disk.h"

namespace {

using namespace swardwalk;

struct Course {
  journal::VirtualDisk disk;
  journal::VirtualVfs vfs;
  course::CourseFold fold;
  std::optional<journal::Journal> journal;

  Course() {
    vfs.add("disk", disk);
    journal::JournalOptions options;
    options.file = "/disk/journal.sqlite";
    options.vfs = vfs.name();
    auto opened = journal::Journal::open(options, journal::Signer({1}), fold);
    if (!opened) std::abort();
    journal.emplace(std::move(*opened));
    if (!journal->found({}, 0, "fuzz")) std::abort();
  }
  Result<interchange::ImportTally> import(const std::string& text) {
    return interchange::importCourseFiles(*journal, {{"file.geojson", text}}, {});
  }
};

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(reinterpret_cast<const char*>(data), size);
  Course first;
  const auto tally = first.import(text);
  if (!tally) {
    if (tally.error().what.empty()) std::abort();
    return 0;
  }
  for (const Failure& refusal : tally->refusals)
    if (refusal.what.empty()) std::abort();
  if (tally->added == 0) return 0;
  const auto report = first.journal->check();
  if (!report || !report->findings.empty()) std::abort();
  const auto given = interchange::exportGeoJson(*first.journal);
  if (!given) std::abort();
  Course second;
  const auto again = second.import(*given);
  if (!again || again->refused != 0) std::abort();
  return 0;
}
