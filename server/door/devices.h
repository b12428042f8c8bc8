#pragma once

#include <cstdint>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "common/journal/record.h"
#include "server/door/door_file.h"

namespace swardwalk::server {

/// A tablet, or another machine that exchanges, as the door knows it.
struct Device {
  journal::OriginKey origin{};
  std::string name;  ///< how it named itself; may be empty
  bool paired = false;
  bool shutOut = false;  ///< what it writes from then on waits until it is accepted
  bool vouched = false;  ///< its origin was accepted in the journal
  std::optional<std::int64_t> paired_ms;
  std::optional<std::int64_t> seen_ms;
};

struct NewCode {
  std::string code;  ///< without its dash
  std::int64_t ends_ms = 0;
};

/// Pairing codes, and the devices that were paired with them (X5). Whatever it decides is on
/// disk when a call returns, and holds at once for every process. `door` must outlive it.
class Devices {
 public:
  explicit Devices(DoorFile& door) : door_(&door) {}

  /// A code that pairs one device within ten minutes; `refused` while too many are open.
  Result<NewCode> makeCode(std::int64_t now_ms);

  /// Uses the code up and gives the device its token, in the place of the one it had.
  /// `refused` where no such code is open. A device that was shut out is let in to
  /// exchange again, and what it wrote since then goes on waiting.
  Result<std::string> pair(const std::string& code, const journal::OriginKey& origin,
                           const std::string& name, std::int64_t now_ms);

  /// Whose token this is; nothing where it is nobody's.
  Result<std::optional<Device>> withToken(std::string_view token);
  Result<std::optional<Device>> withOrigin(const journal::OriginKey& origin);
  Result<std::set<journal::OriginKey>> shutOutOrigins();
  /// All that were ever paired or shut out, by name.
  Result<std::vector<Device>> all();

  Result<void> setSeen(const journal::OriginKey& origin, std::int64_t now_ms);
  Result<void> setVouched(const journal::OriginKey& origin);

  /// Its token is dead, and what it writes from now on waits.
  Result<void> shutOut(const journal::OriginKey& origin);
  /// What it writes and wrote meanwhile waits no longer.
  Result<void> accept(const journal::OriginKey& origin);

 private:
  DoorFile* door_;
};

/// The one device that is meant by its name, or by 8 or more digits of its origin;
/// `invalid` or `notFound` in words.
Result<Device> deviceNamed(const std::vector<Device>& devices, std::string_view words);

}  // namespace swardwalk::server
