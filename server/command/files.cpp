#include "server/command/files.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>

namespace swardwalk::server {
namespace {

tl::unexpected<Failure> ioFailure(const std::string& file, const std::string& what, int error) {
  const bool full = error == ENOSPC || error == EDQUOT;
  return fail(full ? FailureKind::full : FailureKind::io, file,
              fmt::format("{} ({})", what, std::strerror(error)),
              full ? "make room and try again" : "look at the folder's rights and its disk");
}

/// A file descriptor that closes itself.
struct Handle {
  int number = -1;
  ~Handle() {
    if (number >= 0) ::close(number);
  }
};

Result<void> writeFully(int handle, const std::string& file, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t written = ::write(handle, bytes.data(), bytes.size());
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) return ioFailure(file, "the file could not be written", errno);
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  return {};
}

Result<void> syncFolderOf(const std::string& file) {
  std::string folder = std::filesystem::path(file).parent_path().string();
  if (folder.empty()) folder.assign(1, '.');
  const Handle handle{::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)};
  // Some sticks' file systems know no sync of a folder; the file itself is synced.
  if (handle.number >= 0 && ::fsync(handle.number) != 0 && errno != EINVAL) {
    return ioFailure(folder, "the folder could not be synced", errno);
  }
  return {};
}

}  // namespace

Result<std::string> readFile(const std::string& file, std::size_t mostBytes) {
  std::error_code error;
  if (std::filesystem::is_directory(file, error)) {
    return fail(FailureKind::io, file, "this is a folder", "name a file");
  }
  std::ifstream stream(file, std::ios::binary);
  if (!stream) {
    const int why = errno;
    return fail(why == ENOENT ? FailureKind::notFound : FailureKind::io, file,
                fmt::format("the file cannot be read ({})", std::strerror(why)),
                "look at its name and rights");
  }
  constexpr std::size_t atOnce = std::size_t{64} * 1024;
  std::string bytes;
  while (stream && bytes.size() < mostBytes) {
    const std::size_t had = bytes.size();
    bytes.resize(had + std::min(atOnce, mostBytes - had));
    stream.read(bytes.data() + had, static_cast<std::streamsize>(bytes.size() - had));
    bytes.resize(had + static_cast<std::size_t>(stream.gcount()));
  }
  if (stream.bad()) {
    return fail(FailureKind::io, file, "the file cannot be read to its end", "copy it again");
  }
  return bytes;
}

Result<void> replaceFile(
    const std::string& file,
    const std::function<Result<void>(const std::function<Result<void>(std::string_view)>&)>& fill) {
  std::string beside = file + ".XXXXXX";
  const Handle handle{::mkostemp(beside.data(), O_CLOEXEC)};
  if (handle.number < 0) return ioFailure(file, "the file could not be made", errno);
  const auto giveUp = [&](Result<void> failed) {
    ::unlink(beside.c_str());
    return failed;
  };
  auto filled =
      fill([&](std::string_view bytes) { return writeFully(handle.number, file, bytes); });
  if (!filled) return giveUp(std::move(filled));
  // Made for its owner alone; a result that was asked for is readable as others are.
  const mode_t mask = ::umask(0);
  ::umask(mask);
  if (::fchmod(handle.number, 0666 & ~mask) != 0 && errno != EPERM) {
    return giveUp(ioFailure(file, "the file's rights could not be set", errno));
  }
  if (::fsync(handle.number) != 0) {
    return giveUp(ioFailure(file, "the file could not be synced", errno));
  }
  if (::rename(beside.c_str(), file.c_str()) != 0) {
    return giveUp(ioFailure(file, "the file could not be put in its place", errno));
  }
  return syncFolderOf(file);
}

}  // namespace swardwalk::server
