#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "common/journal/journal.h"

namespace swardwalk::journal {

/// A record that a rescue saved without its body, because that was damaged. It stands in the
/// journal like an erased one, and gets its body back with a run that still has it.
struct LostBody {
  Head point;
  /// Somebody was asked and had no body either. It is still taken from whoever brings it.
  bool asked = false;

  bool operator==(const LostBody&) const = default;
};

/// The journal's note that names them; FORMAT.md specifies it.
inline constexpr const char* lostBodiesNote = "lost bodies";

std::string writeLostBodies(std::span<const LostBody> lost);
/// Lines that make no sense are left out: a body then stays lost, which harms nobody.
std::vector<LostBody> parseLostBodies(std::string_view note);

std::vector<LostBody> lostBodies(const Journal& journal);

}  // namespace swardwalk::journal
