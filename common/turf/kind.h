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

/// The trade's word, as course files and answers write it: "bare".
std::string_view word(Kind kind);

/// The kind of that word, small letters; nothing for any other text.
std::optional<Kind> kindNamed(std::string_view word);

}  // namespace swardwalk::turf
