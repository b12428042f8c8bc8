#include "common/journal/photo_folder.h"

#include <fmt/core.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "common/journal/digest.h"
#include "common/journal/durable_file.h"

namespace swardwalk::journal {

namespace fs = std::filesystem;

namespace {

constexpr std::string_view partEnding = ".part";

tl::unexpected<Failure> folderFailure(const std::string& where, const std::error_code& error) {
  return fail(FailureKind::io, where, error.message(), "check the disk and who may write there");
}

std::optional<Digest> digestNamed(const fs::path& file) { return parseHex<32>(file.string()); }

std::uint64_t sizeOf(const std::string& file) {
  std::error_code error;
  const auto size = fs::file_size(file, error);
  return error ? 0 : static_cast<std::uint64_t>(size);
}

}  // namespace

PhotoFolder::PhotoFolder(const std::string& directory)
    : folder_((fs::path(directory) / "photos").string()) {}

PhotoFolder PhotoFolder::at(std::string folder) { return {Itself{}, std::move(folder)}; }

std::string PhotoFolder::fileOf(const Digest& photo) const {
  return (fs::path(folder_) / hex(photo)).string();
}

std::string PhotoFolder::partOf(const Digest& photo) const {
  return fileOf(photo).append(partEnding);
}

bool PhotoFolder::holds(const Digest& photo) const {
  std::error_code error;
  return fs::is_regular_file(fileOf(photo), error);
}

Result<void> PhotoFolder::makeFolder() const {
  std::error_code error;
  if (!fs::create_directories(folder_, error) && error) return folderFailure(folder_, error);
  // The name of the folder must outlive a power loss, too.
  const std::string parent = fs::path(folder_).parent_path().string();
  return syncDirectory(parent.empty() ? "." : parent);
}

Result<Digest> PhotoFolder::add(std::string_view bytes) {
  if (bytes.empty() || bytes.size() > limits::photoBytes) {
    return fail(FailureKind::invalid, "photo",
                bytes.empty() ? "it is empty"
                              : fmt::format("it is over {} MiB", limits::photoBytes / 1'048'576),
                "take it again, or make it smaller");
  }
  const Digest photo = blake2b(bytes);
  if (read(photo)) return photo;
  if (auto made = makeFolder(); !made) return tl::unexpected(made.error());
  auto written = replaceDurably(fileOf(photo), bytes);
  if (!written) return tl::unexpected(written.error());
  return photo;
}

Result<std::string> PhotoFolder::read(const Digest& photo) const {
  const std::string file = fileOf(photo);
  if (!holds(photo)) return fail(FailureKind::notFound, file, "this picture is not here", "");
  std::ifstream stream(file, std::ios::binary);
  std::ostringstream bytes;
  bytes << stream.rdbuf();
  if (!stream) return fail(FailureKind::io, file, "it cannot be read", "check the disk");
  std::string picture = std::move(bytes).str();
  if (blake2b(picture) != photo) {
    return fail(FailureKind::corrupt, file, "its bytes are not those of the picture of this name",
                "bring it back from a backup or another device, and check the disk");
  }
  return picture;
}

std::uint64_t PhotoFolder::have(const Digest& photo) const {
  return sizeOf(holds(photo) ? fileOf(photo) : partOf(photo));
}

Result<std::uint64_t> PhotoFolder::take(const Digest& photo, std::uint64_t from, std::uint64_t of,
                                        std::string_view bytes) {
  if (of == 0 || of > limits::photoBytes || from > of || bytes.size() > of - from) {
    return fail(FailureKind::invalid, "photo", "its bytes and its size do not fit together",
                fmt::format("send at most {} bytes of it", limits::photoBytes));
  }
  const std::uint64_t here = have(photo);
  if (holds(photo) || from != here || bytes.empty()) return here;

  if (auto made = makeFolder(); !made) return tl::unexpected(made.error());
  const std::string part = partOf(photo);
  if (auto grown = appendDurably(part, bytes); !grown) return tl::unexpected(grown.error());
  if (from + bytes.size() < of) return from + bytes.size();

  std::ifstream stream(part, std::ios::binary);
  std::ostringstream whole;
  whole << stream.rdbuf();
  std::error_code error;
  if (!stream || blake2b(whole.view()) != photo) {
    fs::remove(part, error);
    return fail(FailureKind::corrupt, "photo", "what came is not the picture of this name",
                "send it again from its beginning");
  }
  fs::rename(part, fileOf(photo), error);
  if (error) return folderFailure(part, error);
  if (auto synced = syncDirectory(folder_); !synced) return tl::unexpected(synced.error());
  return of;
}

void PhotoFolder::drop(const Digest& photo) {
  std::error_code ignored;  // what stays is found again by the next look
  fs::remove(fileOf(photo), ignored);
  fs::remove(partOf(photo), ignored);
}

Result<std::vector<Digest>> PhotoFolder::all() const {
  std::vector<Digest> photos;
  std::error_code error;
  if (!fs::exists(folder_, error)) return photos;
  for (fs::directory_iterator entry(folder_, error), end; !error && entry != end;
       entry.increment(error)) {
    if (const auto photo = digestNamed(entry->path().filename())) photos.push_back(*photo);
  }
  if (error) return folderFailure(folder_, error);
  return photos;
}

}  // namespace swardwalk::journal
