#include <charconv>
#include <chrono>
#include <cstdio>
#include <cstring>
#include <exception>
#include <iostream>
#include <optional>
#include <string_view>

#include "tests/simulation/world.h"

namespace {

struct Wanted {
  std::uint64_t from = 1;
  std::uint64_t to = 100;
  bool trace = false;
};

std::optional<std::uint64_t> numberOf(std::string_view text) {
  std::uint64_t number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return number;
}

std::optional<Wanted> wantedBy(int argc, char** argv) {
  Wanted wanted;
  for (int i = 1; i < argc; ++i) {
    const std::string_view option = argv[i];
    if (option == "--trace") {
      wanted.trace = true;
      continue;
    }
    if (i + 1 >= argc) return std::nullopt;
    const std::string_view value = argv[++i];
    if (option == "--seed") {
      const auto seed = numberOf(value);
      if (!seed) return std::nullopt;
      wanted.from = wanted.to = *seed;
    } else if (option == "--seeds") {
      const std::size_t dash = value.find('-');
      if (dash == std::string_view::npos) return std::nullopt;
      const auto from = numberOf(value.substr(0, dash));
      const auto to = numberOf(value.substr(dash + 1));
      if (!from || !to || *from > *to) return std::nullopt;
      wanted.from = *from;
      wanted.to = *to;
    } else {
      return std::nullopt;
    }
  }
  return wanted;
}

/// What went wrong in this world, or nothing.
std::optional<std::string> live(std::uint64_t seed, std::ostream* trace) {
  try {
    swardwalk::simulation::World world(seed, trace);
    world.live();
    world.judge();
    return std::nullopt;
  } catch (const std::exception& broken) {
    return broken.what();
  }
}

}  // namespace

int main(int argc, char** argv) {
  const auto wanted = wantedBy(argc, argv);
  if (!wanted) {
    std::fputs("usage: simulation [--seeds FROM-TO | --seed N] [--trace]\n", stderr);
    return 2;
  }
  const auto begun = std::chrono::steady_clock::now();
  for (std::uint64_t seed = wanted->from; seed <= wanted->to; ++seed) {
    const auto broken = live(seed, wanted->trace ? &std::cout : nullptr);
    if (!broken) continue;
    std::cout << "seed " << seed << " fails: " << *broken << "\nits steps: simulation --seed "
              << seed << " --trace\n";
    return 1;
  }
  const std::chrono::duration<double> seconds = std::chrono::steady_clock::now() - begun;
  const std::uint64_t count = wanted->to - wanted->from + 1;
  std::cout << count << " seeds without a failure, " << static_cast<double>(count) / seconds.count()
            << " a second\n";
  return 0;
}
