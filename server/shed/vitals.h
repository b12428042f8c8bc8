#pragma once

#include <array>
#include <chrono>
#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <utility>

#include "server/http/message.h"
#include "server/http/traffic.h"

namespace swardwalk::server {

/// How the shed is: for who looks after the machine, and for programs that watch it. Use
/// from the thread of the sessions.
class Vitals {
 public:
  using Clock = std::function<std::int64_t()>;  ///< wall clock, ms since 1970

  /// Of the shed in this directory.
  Vitals(std::string directory, Clock clock);

  /// Where the traffic is read, once there is any.
  void watch(std::function<Traffic()> traffic) { traffic_ = std::move(traffic); }

  void answered(std::string_view route, unsigned status, std::chrono::microseconds took);

  /// A request that waits for the journal, while this lives.
  class Waiting {
   public:
    explicit Waiting(Vitals& vitals) : vitals_(vitals), number_(vitals.next_++) {
      vitals_.waiting_.emplace(number_, std::chrono::steady_clock::now());
    }
    ~Waiting() { vitals_.waiting_.erase(number_); }
    Waiting(const Waiting&) = delete;
    Waiting& operator=(const Waiting&) = delete;

   private:
    Vitals& vitals_;
    std::uint64_t number_;
  };

  /// In words that tell a stranger nothing: 200, or 503 where somebody must look after it.
  Response health() const;

  /// OpenMetrics 1.0 text.
  Response metrics() const;

 private:
  bool serves() const;
  std::optional<std::uint64_t> freeBytes() const;
  std::optional<std::int64_t> lastBackup_ms() const;

  std::string directory_;
  Clock clock_;
  std::int64_t started_ms_;
  std::function<Traffic()> traffic_;
  std::map<std::pair<std::string, unsigned>, std::uint64_t> answers_;  ///< by route and status
  static constexpr std::array<double, 8> bounds_s{0.001, 0.005, 0.02, 0.1, 0.5, 2, 10, 60};
  std::array<std::uint64_t, bounds_s.size() + 1> took_{};  ///< the last: longer
  std::chrono::microseconds tookAltogether_{0};
  std::uint64_t next_ = 0;
  std::map<std::uint64_t, std::chrono::steady_clock::time_point> waiting_;
};

}  // namespace swardwalk::server
