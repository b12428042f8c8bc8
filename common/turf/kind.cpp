#include "common/turf/kind.h"

#include <array>

namespace swardwalk::turf {
namespace {

struct Named {
  Kind kind;
  std::string_view word;
};

constexpr std::array<Named, 4> kinds = {
    Named{Kind::bare, "bare"},
    Named{Kind::hungry, "hungry"},
    Named{Kind::dug, "dug"},
    Named{Kind::washed, "washed"},
};

}  // namespace

std::string_view word(Kind kind) {
  for (const Named& named : kinds) {
    if (named.kind == kind) return named.word;
  }
  return {};
}

std::optional<Kind> kindNamed(std::string_view word) {
  for (const Named& named : kinds) {
    if (named.word == word) return named.kind;
  }
  return std::nullopt;
}

}  // namespace swardwalk::turf
