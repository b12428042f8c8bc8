#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "server/door/people.h"

namespace swardwalk::server {

/// The cookies of a browser: who is signed in there, and that somebody was.
inline constexpr std::string_view sessionCookie = "__Host-session";
inline constexpr std::string_view browserCookie = "__Host-browser";

/// How long somebody stays signed in (OWASP ASVS 4.0.3, 3.3.2).
inline constexpr std::int64_t sessionLasts_ms = 12 * 3'600'000LL;
inline constexpr std::int64_t sessionIdle_ms = 30 * 60'000LL;
/// How long a browser in which somebody signed in is known again.
inline constexpr std::int64_t browserKnown_ms = 365 * 86'400'000LL;

/// Who is signed in, by secrets that only their browsers have. `door` must outlive it.
class Sessions {
 public:
  explicit Sessions(DoorFile& door) : door_(&door) {}

  /// A new session's secret. At most twenty of one person: the oldest make room.
  Result<std::string> begin(const std::string& name, std::int64_t now_ms);
  /// Whose it is, as they are entered now; nothing where it is nobody's, or over.
  Result<std::optional<Person>> whose(std::string_view secret, std::int64_t now_ms);
  Result<void> end(std::string_view secret);
  Result<void> endAllOf(const std::string& name);

  /// A browser in which this person signed in is known again by this secret, so that
  /// strangers who guess elsewhere cannot keep the person waiting.
  Result<std::string> rememberBrowser(const std::string& name, std::int64_t now_ms);
  Result<bool> knowsBrowser(std::string_view secret, const std::string& name, std::int64_t now_ms);

 private:
  DoorFile* door_;
};

}  // namespace swardwalk::server
