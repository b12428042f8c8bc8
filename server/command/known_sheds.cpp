#include "server/command/known_sheds.h"

#include <boost/json.hpp>

#include "common/journal/durable_file.h"
#include "server/command/files.h"

namespace swardwalk::server {
namespace {

namespace json = boost::json;

std::string fileOf(const std::string& directory) { return directory + "/sheds.json"; }

tl::unexpected<Failure> unreadable(const std::string& file) {
  return fail(FailureKind::corrupt, file, "what is remembered of sheds cannot be read",
              "move the file away, and pair again");
}

/// By address; empty where there is no file.
Result<json::object> read(const std::string& file) {
  const auto bytes = readFile(file);
  if (!bytes && bytes.error().kind == FailureKind::notFound) return json::object();
  if (!bytes) return tl::unexpected(bytes.error());
  boost::system::error_code error;
  json::value value = json::parse(*bytes, error);
  if (error || !value.is_object()) return unreadable(file);
  return std::move(value.as_object());
}

std::string textOf(const json::object& entry, std::string_view key) {
  const json::value* text = entry.if_contains(key);
  return text && text->is_string() ? std::string(text->get_string().c_str()) : std::string();
}

}  // namespace

Result<std::optional<KnownShed>> knownShed(const std::string& directory,
                                           const std::string& address) {
  const std::string file = fileOf(directory);
  const auto sheds = read(file);
  if (!sheds) return tl::unexpected(sheds.error());
  const json::value* entry = sheds->if_contains(address);
  if (!entry) return std::nullopt;
  if (!entry->is_object()) return unreadable(file);
  const auto fingerprint = parseFingerprint(textOf(entry->get_object(), "fingerprint"));
  if (!fingerprint) return unreadable(file);
  return KnownShed{*fingerprint, textOf(entry->get_object(), "token")};
}

Result<void> rememberShed(const std::string& directory, const std::string& address,
                          const KnownShed& shed) {
  const std::string file = fileOf(directory);
  auto sheds = read(file);
  if (!sheds) return tl::unexpected(sheds.error());
  json::object entry{{"fingerprint", written(shed.fingerprint)}};
  if (!shed.token.empty()) entry["token"] = shed.token;
  (*sheds)[address] = std::move(entry);
  return journal::replaceDurably(file, json::serialize(*sheds) + "\n");
}

}  // namespace swardwalk::server
