#include "common/journal/durable_file.h"

#include <fcntl.h>
#include <fmt/core.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>

namespace swardwalk::journal {

namespace {

tl::unexpected<Failure> systemFailure(const std::string& file, const char* doing, int error) {
  const FailureKind kind = error == ENOSPC || error == EDQUOT ? FailureKind::full : FailureKind::io;
  return fail(kind, file, fmt::format("{}: {}", doing, std::strerror(error)),
              kind == FailureKind::full ? "make room on the disk, then try again"
                                        : "check the disk and who may write there");
}

std::string folderOf(const std::string& file) {
  const std::string folder = std::filesystem::path(file).parent_path().string();
  return folder.empty() ? "." : folder;
}

Result<void> writeAndSync(int descriptor, const std::string& file, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t written = ::write(descriptor, bytes.data(), bytes.size());
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) return systemFailure(file, "could not be written", errno);
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  if (::fsync(descriptor) != 0) return systemFailure(file, "could not be written to disk", errno);
  return {};
}

/// A whole and durable file under a name of its own beside `file`.
Result<std::string> writeBeside(const std::string& file, std::string_view bytes) {
  std::string beside = file + ".XXXXXX";
  const int descriptor = ::mkstemp(beside.data());  // mode 0600
  if (descriptor < 0) return systemFailure(file, "could not be made", errno);
  auto written = writeAndSync(descriptor, file, bytes);
  if (::close(descriptor) != 0 && written)
    written = systemFailure(file, "could not be closed", errno);
  if (!written) {
    ::unlink(beside.c_str());
    return tl::unexpected(written.error());
  }
  return beside;
}

}  // namespace

Result<void> syncDirectory(const std::string& directory) {
  const int descriptor = ::open(directory.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (descriptor < 0) return systemFailure(directory, "could not be opened", errno);
  const int failed = ::fsync(descriptor) != 0 ? errno : 0;
  ::close(descriptor);
  // Some file systems know no sync of a directory; their names are as safe as they get.
  if (failed != 0 && failed != EINVAL)
    return systemFailure(directory, "could not be written to disk", failed);
  return {};
}

Result<void> writeNewDurably(const std::string& file, std::string_view bytes) {
  auto beside = writeBeside(file, bytes);
  if (!beside) return tl::unexpected(beside.error());
  // A link, unlike a rename, never replaces what somebody else made meanwhile.
  const int failed = ::link(beside->c_str(), file.c_str()) != 0 ? errno : 0;
  ::unlink(beside->c_str());
  if (failed == EEXIST)
    return fail(FailureKind::refused, file, "there is such a file already", "keep it, or move it");
  if (failed != 0) return systemFailure(file, "could not be made", failed);
  return syncDirectory(folderOf(file));
}

Result<void> replaceDurably(const std::string& file, std::string_view bytes) {
  auto beside = writeBeside(file, bytes);
  if (!beside) return tl::unexpected(beside.error());
  if (::rename(beside->c_str(), file.c_str()) != 0) {
    const int failed = errno;
    ::unlink(beside->c_str());
    return systemFailure(file, "could not be replaced", failed);
  }
  return syncDirectory(folderOf(file));
}

Result<void> appendDurably(const std::string& file, std::string_view bytes) {
  const int descriptor = ::open(file.c_str(), O_WRONLY | O_CREAT | O_CLOEXEC, 0600);
  if (descriptor < 0) return systemFailure(file, "could not be made", errno);
  const off_t end = ::lseek(descriptor, 0, SEEK_END);
  auto written = end < 0 ? systemFailure(file, "could not be read", errno)
                         : writeAndSync(descriptor, file, bytes);
  // Best effort: where even this fails, the digest of the whole shows it later.
  if (!written && end >= 0) static_cast<void>(::ftruncate(descriptor, end));
  if (::close(descriptor) != 0 && written)
    written = systemFailure(file, "could not be closed", errno);
  return written;
}

}  // namespace swardwalk::journal
