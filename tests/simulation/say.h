#pragma once

#include <fmt/format.h>
#include <fmt/ostream.h>

#include "tests/simulation/world.h"

namespace swardwalk::simulation {

template <class... Values>
void World::say(const char* format, const Values&... values) {
  if (trace_ == nullptr) return;
  fmt::print(*trace_, "{:5} {:7} ms  ", steps_, now_);
  *trace_ << fmt::format(fmt::runtime(format), values...) << '\n';
}

}  // namespace swardwalk::simulation
