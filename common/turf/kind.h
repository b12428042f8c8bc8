#pragma once

#include <optional>
#include <string_view>

namespace swardwalk::turf {

/// What is wrong with a place.
enum class Kind {
  bare,
  hungry,  ///< off colour
  dug,     ///< by an animal
  washed   ///< eroded by water
};

std::string_view word(Kind kind);
std::optional<Kind> kindNamed(std::string_view word);

}  // namespace swardwalk::turf
