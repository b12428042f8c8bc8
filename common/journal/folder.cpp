#include "common/journal/folder.h"

#include <fmt/core.h>
#include <sodium.h>

#include <filesystem>

#include "common/journal/durable_file.h"
#include "common/journal/sodium_ready.h"

namespace swardwalk::journal {

namespace {

std::string keyFile(const std::string& directory) { return directory + "/origin.key"; }

Signer newSigner() {
  Signer::Seed seed;
  systemRandom(seed.data(), seed.size());
  return Signer(seed);
}

/// The directory's key; makes one where there is none.
Result<Signer> keyOf(const std::string& directory) {
  auto key = Signer::read(keyFile(directory));
  if (key || key.error().kind != FailureKind::notFound) return key;
  const Signer fresh = newSigner();
  auto written = fresh.write(keyFile(directory));
  if (written) return fresh;
  // Somebody else made one in the same moment.
  if (written.error().kind == FailureKind::refused) return Signer::read(keyFile(directory));
  return tl::unexpected(written.error());
}

/// Makes a directory and those above it, each name durable.
Result<void> makeDirectory(const std::filesystem::path& directory) {
  std::error_code error;
  if (directory.empty() || std::filesystem::is_directory(directory, error)) return {};
  if (auto above = makeDirectory(directory.parent_path()); !above) return above;
  if (!std::filesystem::create_directory(directory, error) && error)
    return fail(error == std::errc::no_space_on_device ? FailureKind::full : FailureKind::io,
                directory.string(), fmt::format("cannot be made: {}", error.message()),
                "name a directory that can be written to");
  const std::string above = directory.parent_path().string();
  return syncDirectory(above.empty() ? "." : above);
}

}  // namespace

void systemRandom(std::uint8_t* bytes, std::size_t size) {
  sodiumReady();
  randombytes_buf(bytes, size);
}

Result<Journal> openFolder(const std::string& directory, Missing missing, Fold& fold,
                           JournalOptions options) {
  options.file = directory + "/journal.sqlite";
  std::error_code error;
  const bool isThere = std::filesystem::exists(options.file, error);
  if (error && error != std::errc::no_such_file_or_directory)
    return fail(FailureKind::io, options.file, fmt::format("cannot be read: {}", error.message()),
                "check who may read the directory");
  if (!isThere && (missing == Missing::refuse || options.readOnly))
    return fail(FailureKind::notFound, directory, "there is no journal in this directory",
                "name the directory of a course, or import or exchange something into it first");
  if (options.readOnly) {
    auto key = Signer::read(keyFile(directory));
    // Who only looks needs no key that lasts.
    return Journal::open(options, key ? *key : newSigner(), fold);
  }
  if (auto made = makeDirectory(directory); !made) return tl::unexpected(made.error());
  auto key = keyOf(directory);
  if (!key) return tl::unexpected(key.error());
  auto journal = Journal::open(options, *key, fold);
  if (journal && !isThere)
    if (auto synced = syncDirectory(directory); !synced) return tl::unexpected(synced.error());
  return journal;
}

Result<void> renewOrigin(Journal& journal, const std::string& directory, std::string_view reason,
                         std::int64_t wall_ms) {
  const Signer fresh = newSigner();
  if (auto replaced = fresh.replace(keyFile(directory)); !replaced) return replaced;
  return journal.changeOrigin(fresh, reason, wall_ms);
}

}  // namespace swardwalk::journal
