#include <algorithm>
#include <array>
#include <boost/json.hpp>
#include <filesystem>

#include "common/course/course_fold.h"
#include "common/exchange/exchange.h"
#include "common/interchange/course_file.h"
#include "common/journal/folder.h"
#include "server/command/commands.h"
#include "server/command/csv.h"
#include "server/command/files.h"
#include "server/door/known_devices.h"

namespace swardwalk::server {
namespace {

using interchange::SourceFile;

constexpr const char* deviceName = "Import";

enum class Content { courseFile, recordLines, unknown };

std::string_view withoutSpace(std::string_view bytes) {
  if (bytes.starts_with("\xEF\xBB\xBF")) bytes.remove_prefix(3);
  const std::size_t begin = bytes.find_first_not_of(" \t\r\n");
  return begin == std::string_view::npos ? std::string_view() : bytes.substr(begin);
}

Content contentOf(const SourceFile& file) {
  const std::string_view bytes = withoutSpace(file.bytes);
  const std::string_view first = bytes.substr(0, bytes.find('\n'));
  if (first.starts_with("{\"protocol\"")) return Content::recordLines;
  // Everything else that begins like JSON is for the course file's reader to judge.
  if (first.starts_with("{") || first.starts_with("[")) return Content::courseFile;
  return Content::unknown;
}

Failure unknownContent(const SourceFile& file) {
  const std::string_view bytes = withoutSpace(file.bytes);
  std::string ending = std::filesystem::path(file.name).extension().string();
  const bool later = bytes.starts_with("<") || ending == ".csv" || ending == ".kml" ||
                     ending == ".gpx" || ending == ".kmz";
  if (later) {
    return {FailureKind::refused, file.name, "GPX, KML and CSV are not taken by this version yet",
            "bring it as a GeoJSON course file"};
  }
  return {FailureKind::invalid, file.name, "this is neither a course file nor record lines",
          "bring GeoJSON, or what export --as records wrote"};
}

struct Batch {
  std::vector<SourceFile> courseFiles;
  std::vector<SourceFile> recordFiles;
};

Result<Batch> readBatch(const std::vector<std::string>& names) {
  Batch batch;
  for (const std::string& name : names) {
    auto bytes = readFile(name);
    if (!bytes) return tl::unexpected(bytes.error());
    SourceFile file{name, std::move(*bytes)};
    switch (contentOf(file)) {
      case Content::courseFile:
        batch.courseFiles.push_back(std::move(file));
        break;
      case Content::recordLines:
        batch.recordFiles.push_back(std::move(file));
        break;
      case Content::unknown:
        return tl::unexpected(unknownContent(file));
    }
  }
  return batch;
}

Result<void> found(journal::Journal& journal, std::int64_t wall_ms) {
  std::array<std::uint8_t, 16> nonce{};
  journal::systemRandom(nonce.data(), nonce.size());
  return journal.found(nonce, wall_ms, deviceName);
}

/// A folder that is gone when this is.
class ScratchFolder {
 public:
  ScratchFolder() {
    std::array<std::uint8_t, 8> name{};
    journal::systemRandom(name.data(), name.size());
    path_ = std::filesystem::temp_directory_path() / ("swardwalk-" + journal::hex(name));
  }
  ~ScratchFolder() {
    std::error_code ignored;  // the system clears its folder for such files itself
    std::filesystem::remove_all(path_, ignored);
  }
  ScratchFolder(const ScratchFolder&) = delete;
  ScratchFolder& operator=(const ScratchFolder&) = delete;

  std::string path() const { return path_.string(); }

 private:
  std::filesystem::path path_;
};

/// Would the files be refused by a course that has nothing yet? Tried aside, so that a
/// blank journal stays blank and can still take the course of a shed.
Result<interchange::ImportTally> rehearse(const Batch& batch,
                                          const interchange::ImportOptions& options) {
  const ScratchFolder scratch;
  course::CourseFold fold;
  auto journal = journal::openFolder(scratch.path(), journal::Missing::make, fold);
  if (!journal) return tl::unexpected(journal.error());
  if (auto founded = found(*journal, options.wall_ms); !founded) {
    return tl::unexpected(founded.error());
  }
  return interchange::importCourseFiles(*journal, batch.courseFiles, options);
}

std::uint64_t recordsIn(const SourceFile& file) {
  std::uint64_t records = file.bytes.starts_with('[') ? 1 : 0;
  for (std::size_t at = file.bytes.find("\n["); at != std::string::npos;
       at = file.bytes.find("\n[", at + 1)) {
    ++records;
  }
  return records;
}

void print(const CommandLine& line, Console& console, const interchange::ImportTally& tally) {
  const std::string added = std::to_string(tally.added);
  const std::string known = std::to_string(tally.known);
  const std::string refused = std::to_string(tally.refused);
  switch (line.format) {
    case Format::text:
      console.out << added << " new, " << known << " known, " << refused << " refused\n";
      break;
    case Format::json:
      console.out << boost::json::serialize(boost::json::object{
                         {"new", tally.added}, {"known", tally.known}, {"refused", tally.refused}})
                  << '\n';
      break;
    case Format::csv:
      console.out << csvLine({"new", "known", "refused"}) << csvLine({added, known, refused});
      break;
  }
}

Result<interchange::ImportTally> takeCourseFiles(journal::Journal& journal, const Batch& batch,
                                                 const interchange::ImportOptions& options) {
  if (batch.courseFiles.empty()) return interchange::ImportTally{};
  if (!journal.course()) {
    auto rehearsed = rehearse(batch, options);
    if (!rehearsed || (rehearsed->refused > 0 && !options.skipBad)) return rehearsed;
    if (auto founded = found(journal, options.wall_ms); !founded) {
      return tl::unexpected(founded.error());
    }
  }
  return interchange::importCourseFiles(journal, batch.courseFiles, options);
}

Result<void> takeRecordFile(journal::Journal& journal, const SourceFile& file,
                            const std::set<journal::OriginKey>& shutOut,
                            interchange::ImportTally& tally) {
  // Nobody vouches for a file: origins that are new here wait until they are accepted.
  const auto taken =
      exchange::readAll(journal, file.bytes, journal::Vouching::waiting,
                        [&](const journal::OriginKey& origin) { return shutOut.contains(origin); });
  if (!taken) {
    Failure failure = taken.error();
    failure.where = failure.where.empty() ? file.name : file.name + ", " + failure.where;
    return tl::unexpected(std::move(failure));
  }
  const std::uint64_t records = recordsIn(file);
  tally.added += taken->received;
  tally.known += records - std::min(records, taken->received);
  for (const std::string& alarm : taken->alarms) {
    tally.refusals.push_back({FailureKind::refused, file.name, alarm, ""});
  }
  return {};
}

Result<void> takeRecords(journal::Journal& journal, const Batch& batch,
                         const std::set<journal::OriginKey>& shutOut,
                         interchange::ImportTally& tally) {
  for (const SourceFile& file : batch.recordFiles) {
    if (auto taken = takeRecordFile(journal, file, shutOut, tally); !taken) return taken;
  }
  // A course of its own would keep the records of that file out for good.
  if (!batch.recordFiles.empty() && !journal.course()) {
    return fail(FailureKind::invalid, batch.recordFiles.front().name,
                "it is cut before its first records, and so does not say which course they are of",
                "write the file again; nothing was taken");
  }
  return {};
}

}  // namespace

int runImport(const CommandLine& line, Console& console) {
  const auto batch = readBatch(line.files);
  if (!batch) return refuse(console, batch.error());
  course::CourseFold fold;
  auto journal = journal::openFolder(line.data, journal::Missing::make, fold);
  if (!journal) return refuse(console, journal.error());

  interchange::ImportOptions options;
  options.skipBad = line.skipBad;
  options.wall_ms = console.now_ms();
  const auto shutOut = shutOutOf(line.data);
  if (!shutOut) return refuse(console, shutOut.error());
  // A blank journal becomes one of the course that the records are of; else a course file
  // that is refused keeps the records out, too.
  const bool recordsFirst = !journal->course();
  interchange::ImportTally records;
  if (recordsFirst) {
    if (auto taken = takeRecords(*journal, *batch, *shutOut, records); !taken) {
      return refuse(console, taken.error());
    }
  }
  auto tally = takeCourseFiles(*journal, *batch, options);
  if (!tally) return refuse(console, tally.error());
  if (!recordsFirst && (tally->refused == 0 || line.skipBad)) {
    if (auto taken = takeRecords(*journal, *batch, *shutOut, records); !taken) {
      return refuse(console, taken.error());
    }
  }
  tally->added += records.added;
  tally->known += records.known;
  tally->refusals.insert(tally->refusals.end(), records.refusals.begin(), records.refusals.end());
  for (const Failure& refusal : tally->refusals) refuse(console, refusal);
  sayWhoWaits(console, *journal);
  print(line, console, *tally);
  return tally->refusals.empty() && tally->refused == 0 ? 0 : 1;
}

}  // namespace swardwalk::server
