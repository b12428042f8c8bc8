#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "server/door/caller.h"
#include "server/door/door_file.h"

namespace swardwalk::server {

/// Somebody who may sign in, with the digest of their password.
struct Entry {
  Person person;
  std::string digest;
};

/// Who may sign in to the page, by name; small and large letters are the same. Whatever it
/// decides holds at once for every process. `door` must outlive it.
class People {
 public:
  explicit People(DoorFile& door) : door_(&door) {}

  /// `refused` where the name is there already, or is none.
  Result<void> add(const Person& person, const std::string& digest);
  /// Ends every session of theirs. `notFound`.
  Result<void> setPassword(const std::string& name, const std::string& digest);
  /// Ends every session of theirs. `notFound`; `refused` for the last manager of others.
  Result<void> remove(const std::string& name);

  Result<std::optional<Entry>> named(const std::string& name);
  Result<std::vector<Person>> all();
  Result<bool> any();

 private:
  DoorFile* door_;
};

std::string_view roleName(Role role);
std::optional<Role> parseRole(std::string_view name);

/// Names are 1 to 120 bytes of UTF-8 without control characters.
bool isName(std::string_view name);

}  // namespace swardwalk::server
