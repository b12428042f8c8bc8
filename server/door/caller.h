#pragma once

#include <optional>
#include <string>

#include "server/door/devices.h"

namespace swardwalk::server {

/// Whether everybody who reaches the shed is let in. `open` is for this machine alone,
/// where nobody needs to be known; `guarded` asks everybody who they are.
enum class Door { open, guarded };

enum class Role { crew, manager };

/// Who signed in.
struct Person {
  std::string name;
  Role role = Role::crew;
};

/// Who asks, as far as the shed knows.
struct Caller {
  Door door = Door::guarded;     ///< through which they came
  bool needsSignIn = true;       ///< false: at an open door where no people are entered
  std::optional<Device> device;  ///< by its token
  std::optional<Person> person;  ///< by the session's cookie
};

}  // namespace swardwalk::server
