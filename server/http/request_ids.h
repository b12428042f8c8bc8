#pragma once

#include <fmt/format.h>

#include <cstdint>
#include <random>
#include <string>

namespace swardwalk::server {

/// Names of requests: 16 hexadecimal digits, counted up from a random beginning, so that
/// those of two runs are not taken for each other. Use from one thread.
class RequestIds {
 public:
  RequestIds() {
    std::random_device source;
    next_ = (std::uint64_t{source()} << 32U) | source();
  }

  std::string next() { return fmt::format("{:016x}", next_++); }

 private:
  std::uint64_t next_ = 0;
};

}  // namespace swardwalk::server
