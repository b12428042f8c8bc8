#include "common/journal/backup.h"

#include <SQLiteCpp/Backup.h>
#include <SQLiteCpp/Database.h>
#include <fcntl.h>
#include <fmt/core.h>
#include <sqlite3.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>

#include "common/journal/durable_file.h"
#include "common/journal/folder.h"
#include "common/journal/sqlite_failure.h"

namespace swardwalk::journal {

namespace {

namespace fs = std::filesystem;

std::string journalOf(const std::string& directory) { return directory + "/journal.sqlite"; }

Failure cannot(const std::string& file, const std::error_code& error, const char* what) {
  return {error == std::errc::no_space_on_device ? FailureKind::full : FailureKind::io, file,
          fmt::format("{}: {}", what, error.message()), "check the disk and who may write there"};
}

Result<void> syncFile(const std::string& file) {
  const int descriptor = ::open(file.c_str(), O_RDONLY | O_CLOEXEC);
  const bool synced = descriptor >= 0 && ::fsync(descriptor) == 0;
  const std::error_code error(errno, std::generic_category());
  if (descriptor >= 0) ::close(descriptor);
  if (!synced) return tl::unexpected(cannot(file, error, "cannot be brought to the disk"));
  return {};
}

std::string folderOf(const std::string& file) {
  const std::string above = fs::path(file).parent_path().string();
  return above.empty() ? "." : above;
}

/// One moment of the journal as one file without companions.
Result<void> copyJournal(const std::string& from, const std::string& to) {
  try {
    SQLite::Database source(from, SQLite::OPEN_READONLY, 10'000);
    SQLite::Database copy(to, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
    {
      SQLite::Backup backup(copy, source);
      // All in one step: a source that others write to would begin it anew between two.
      backup.executeStep(-1);
    }
    copy.exec("PRAGMA journal_mode = DELETE");
  } catch (const SQLite::Exception& error) {
    return tl::unexpected(failureOf(error, from, "copying it"));
  }
  return syncFile(to);
}

Result<CheckReport> checkFile(const std::string& file, Fold& fold) {
  JournalOptions options;
  options.file = file;
  options.readOnly = true;
  Signer::Seed seed;
  systemRandom(seed.data(), seed.size());
  const auto journal = Journal::open(options, Signer(seed), fold);
  if (!journal) return tl::unexpected(journal.error());
  auto report = journal->check();
  if (report && !report->whole) {
    const std::string what =
        report->findings.empty() ? "it does not hold" : report->findings.front().what;
    return fail(FailureKind::corrupt, file, what,
                "use another backup; of a damaged journal, rescue saves what can be read");
  }
  return report;
}

std::optional<CourseId> courseOf(const std::string& file, Fold& fold) {
  JournalOptions options;
  options.file = file;
  options.readOnly = true;
  Signer::Seed seed;
  systemRandom(seed.data(), seed.size());
  const auto journal = Journal::open(options, Signer(seed), fold);
  return journal ? journal->course() : std::nullopt;
}

/// Nobody else has the journal open afterwards, and all of it is in the one file: leaving
/// the write-ahead log needs the file for oneself.
Result<void> closeToOthers(const std::string& file) {
  try {
    SQLite::Database database(file, SQLite::OPEN_READWRITE, 1000);
    const std::string mode = database.execAndGet("PRAGMA journal_mode = DELETE").getString();
    if (mode == "delete") return {};
  } catch (const SQLite::Exception& error) {
    if ((error.getErrorCode() & 0xff) != SQLITE_BUSY && error.getErrorCode() != SQLITE_LOCKED) {
      // A journal too damaged to be opened is just what a backup is for.
      return {};
    }
  }
  return fail(FailureKind::busy, file, "another program has this journal open",
              "stop the server that serves it, then restore again");
}

/// Moves the journal, with what lies beside it, to a folder of its own.
Result<std::string> putAside(const std::string& directory) {
  std::error_code error;
  for (int number = 1;; ++number) {
    const std::string aside = fmt::format("{}/replaced-{}", directory, number);
    if (!fs::create_directory(aside, error)) {
      if (error) return tl::unexpected(cannot(aside, error, "cannot be made"));
      continue;  // that number is taken
    }
    for (const char* ending : {"", "-wal", "-shm"}) {
      const std::string file = journalOf(directory) + ending;
      if (!fs::exists(file, error)) continue;
      fs::rename(file, aside + "/journal.sqlite" + ending, error);
      if (error) return tl::unexpected(cannot(file, error, "cannot be put aside"));
    }
    if (auto synced = syncDirectory(aside); !synced) return tl::unexpected(synced.error());
    return aside;
  }
}

}  // namespace

Result<CheckReport> backUp(const std::string& directory, const std::string& to, Fold& fold) {
  const std::string from = journalOf(directory);
  std::error_code error;
  if (!fs::exists(from, error)) {
    return fail(FailureKind::notFound, directory, "there is no journal in this directory",
                "name the directory of a course");
  }
  const std::string part = to + ".part";
  fs::remove(part, error);
  auto copied = copyJournal(from, part);
  auto report = copied ? checkFile(part, fold) : tl::unexpected(copied.error());
  if (!report) {
    fs::remove(part, error);
    return report;
  }
  fs::rename(part, to, error);
  if (error) return tl::unexpected(cannot(to, error, "cannot be written"));
  if (auto synced = syncDirectory(folderOf(to)); !synced) return tl::unexpected(synced.error());
  return report;
}

Result<std::string> restore(const std::string& directory, const std::string& from, Fold& fold,
                            std::int64_t wall_ms) {
  std::error_code error;
  if (!fs::is_regular_file(from, error)) {
    return fail(FailureKind::notFound, from, "there is no such backup",
                "name a file that backup wrote");
  }
  if (auto report = checkFile(from, fold); !report) return tl::unexpected(report.error());
  const auto course = courseOf(from, fold);

  const std::string file = journalOf(directory);
  const bool replaces = fs::exists(file, error);
  if (replaces) {
    const auto there = courseOf(file, fold);
    if (there && course && *there != *course) {
      return fail(FailureKind::refused, directory, "it holds another course than the backup",
                  "restore into a directory of its own");
    }
    if (auto alone = closeToOthers(file); !alone) return tl::unexpected(alone.error());
  } else if (!fs::create_directories(directory, error) && error) {
    return tl::unexpected(cannot(directory, error, "cannot be made"));
  }
  const std::string part = file + ".part";
  fs::copy_file(from, part, fs::copy_options::overwrite_existing, error);
  if (error) return tl::unexpected(cannot(part, error, "cannot be written"));
  if (auto synced = syncFile(part); !synced) return tl::unexpected(synced.error());
  std::string aside;
  if (replaces) {
    auto put = putAside(directory);
    if (!put) return put;
    aside = std::move(*put);
  }
  fs::rename(part, file, error);
  if (error) return tl::unexpected(cannot(file, error, "cannot be put in its place"));
  if (auto synced = syncDirectory(directory); !synced) return tl::unexpected(synced.error());

  const bool hasKey = fs::exists(directory + "/origin.key", error);
  auto journal = openFolder(directory, Missing::refuse, fold);
  if (!journal) return tl::unexpected(journal.error());
  // A fresh key is a new origin already.
  if (hasKey && journal->course()) {
    if (auto renewed = renewOrigin(*journal, directory, "restored from a backup", wall_ms);
        !renewed) {
      return tl::unexpected(renewed.error());
    }
  }
  return aside;
}

}  // namespace swardwalk::journal
