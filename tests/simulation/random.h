#pragma once

#include <array>
#include <cstdint>

namespace swardwalk::simulation {

/// The one source of chance of a simulation (SplitMix64, as G. L. Steele, D. Lea and
/// C. H. Flood published it, OOPSLA 2014): the same seed gives the same on every machine.
class Random {
 public:
  explicit Random(std::uint64_t seed) : state_(seed * 0x9E3779B97F4A7C15U + 1) {}

  std::uint64_t next() {
    state_ += 0x9E3779B97F4A7C15U;
    std::uint64_t z = state_;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9U;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBU;
    return z ^ (z >> 31);
  }
  /// 0 to `count` - 1; `count` is 1 or more.
  std::uint64_t below(std::uint64_t count) { return next() % count; }
  bool chance(unsigned percent) { return below(100) < percent; }

  template <std::size_t Size>
  std::array<std::uint8_t, Size> bytes() {
    std::array<std::uint8_t, Size> result;
    for (auto& byte : result) byte = static_cast<std::uint8_t>(next());
    return result;
  }

 private:
  std::uint64_t state_;
};

}  // namespace swardwalk::simulation
