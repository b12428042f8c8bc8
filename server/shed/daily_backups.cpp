#include "server/shed/daily_backups.h"

#include <spdlog/spdlog.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <set>

#include "common/course/course_fold.h"
#include "common/course/photos.h"
#include "common/journal/backup.h"
#include "common/journal/folder.h"
#include "server/command/photo_copies.h"

namespace swardwalk::server {
namespace {

namespace fs = std::filesystem;

constexpr const char* ending = ".sqlite";

Failure cannotMake(const fs::path& folder, const std::error_code& error) {
  return {FailureKind::io, folder.string(), "cannot be made: " + error.message(),
          "check the disk and who may write there"};
}

}  // namespace

Result<bool> DailyBackups::keepUp(std::int64_t now_ms, const KeepingRule& rule) {
  const measure::Instant now{std::chrono::milliseconds(now_ms)};
  const fs::path folder = fs::path(directory_) / "backups";
  const fs::path file = folder / (measure::isoDate(measure::Zone::utc().dateOf(now)) + ending);
  std::error_code error;
  if (fs::exists(file, error)) return false;

  course::CourseFold fold;
  journal::JournalOptions options;
  options.readOnly = true;
  const auto journal = journal::openFolder(directory_, journal::Missing::refuse, fold, options);
  if (!journal) return tl::unexpected(journal.error());
  if (!journal->course()) return false;

  fs::create_directories(folder, error);
  if (error) return tl::unexpected(cannotMake(folder, error));
  // Records of people: for the shed's own eyes, as its key is.
  fs::permissions(folder, fs::perms::owner_all, error);
  if (error) return tl::unexpected(cannotMake(folder, error));
  course::CourseFold copied;
  const auto report = journal::backUp(directory_, file.string(), copied);
  if (!report) return tl::unexpected(report.error());
  dropOld(rule);

  journal::PhotoFolder here(directory_);
  journal::PhotoFolder there = journal::PhotoFolder::at((folder / "photos").string());
  const auto copies = copyPhotos(*journal, here, there);
  if (!copies) return tl::unexpected(copies.error());
  for (const std::string& trouble : copies->troubles) spdlog::warn("{}", trouble);
  const auto named = course::namedPhotos(*journal);
  const auto kept = there.all();
  if (!named || !kept) return tl::unexpected(named ? kept.error() : named.error());
  std::set<journal::Digest> wanted;
  for (const course::NamedPhoto& one : *named) wanted.insert(one.photo);
  for (const journal::Digest& photo : *kept) {
    // One that only a restored journal does not name is still in its own folder.
    if (!wanted.contains(photo) && !here.holds(photo)) there.drop(photo);
  }
  spdlog::info("a backup was made and checked: {} records", report->records);
  return true;
}

void DailyBackups::dropOld(const KeepingRule& rule) {
  std::map<measure::Date, fs::path> copies;
  std::error_code error;
  for (const auto& entry : fs::directory_iterator(fs::path(directory_) / "backups", error)) {
    if (entry.path().extension() != ending) continue;
    if (const auto day = measure::parseDate(entry.path().stem().string())) {
      copies[*day] = entry.path();
    }
  }
  std::vector<measure::Date> days;
  for (const auto& [day, path] : copies) days.push_back(day);
  for (const measure::Date day : keptDays(std::move(days), rule)) copies.erase(day);
  for (const auto& [day, path] : copies) fs::remove(path, error);
}

std::string photosOfBackup(const std::string& file) {
  std::error_code error;
  if (fs::is_directory(file + ".photos", error)) return file + ".photos";
  return (fs::path(file).parent_path() / "photos").string();
}

}  // namespace swardwalk::server
