#include "server/shed/vitals.h"

#include <fmt/format.h>

#include <algorithm>
#include <boost/json.hpp>
#include <filesystem>
#include <fstream>

#include "common/version.h"
#include "server/limits.h"

namespace swardwalk::server {
namespace {

namespace fs = std::filesystem;

/// The journal's thread is stuck when somebody waits longer than this.
constexpr std::chrono::seconds longestWait{30};
/// Records of a season and a backup of them fit into this.
constexpr std::uint64_t leastFreeBytes = 256'000'000;
/// One day's backup may fail.
constexpr std::int64_t oldBackup_ms = 2 * 86'400'000LL;

/// Of this process, from the system; 0 where it does not say.
std::uint64_t residentBytes() {
  std::ifstream status("/proc/self/status");
  std::string word;
  std::uint64_t size_kB = 0;
  while (status >> word) {
    if (word == "VmRSS:") status >> size_kB;
  }
  return size_kB * 1024;
}

void family(std::string& text, std::string_view name, std::string_view type, std::string_view help,
            std::string_view unit = {}) {
  text += fmt::format("# TYPE {} {}\n", name, type);
  if (!unit.empty()) text += fmt::format("# UNIT {} {}\n", name, unit);
  text += fmt::format("# HELP {} {}\n", name, help);
}

template <class Value>
void gauge(std::string& text, std::string_view name, std::string_view help, Value value,
           std::string_view unit = {}) {
  family(text, name, "gauge", help, unit);
  text += fmt::format("{} {}\n", name, value);
}

void counter(std::string& text, std::string_view name, std::string_view help, std::uint64_t value) {
  family(text, name, "counter", help);
  text += fmt::format("{}_total {}\n", name, value);
}

double seconds(std::int64_t ms) { return static_cast<double>(ms) / 1000.0; }

}  // namespace

Vitals::Vitals(std::string directory, Clock clock)
    : directory_(std::move(directory)), clock_(std::move(clock)), started_ms_(clock_()) {}

void Vitals::answered(std::string_view route, unsigned status, std::chrono::microseconds took) {
  ++answers_[{std::string(route), status}];
  const double took_s = std::chrono::duration<double>(took).count();
  const auto bound = std::lower_bound(bounds_s.begin(), bounds_s.end(), took_s);
  ++took_[static_cast<std::size_t>(bound - bounds_s.begin())];
  tookAltogether_ += took;
}

bool Vitals::serves() const {
  // The first is the oldest.
  return waiting_.empty() ||
         std::chrono::steady_clock::now() - waiting_.begin()->second < longestWait;
}

std::optional<std::uint64_t> Vitals::freeBytes() const {
  std::error_code error;
  const fs::space_info space = fs::space(directory_, error);
  if (error) return std::nullopt;
  return space.available;
}

std::optional<std::int64_t> Vitals::lastBackup_ms() const {
  std::optional<std::int64_t> last;
  std::error_code error;
  for (const auto& entry : fs::directory_iterator(directory_ + "/backups", error)) {
    if (entry.path().extension() != ".sqlite") continue;
    std::error_code gone;
    const auto written = fs::last_write_time(entry.path(), gone);
    if (gone) continue;
    const auto wall = std::chrono::file_clock::to_sys(written).time_since_epoch();
    const auto ms = std::chrono::duration_cast<std::chrono::milliseconds>(wall).count();
    last = std::max(last.value_or(ms), ms);
  }
  return last;
}

Response Vitals::health() const {
  const bool serving = serves();
  const auto free = freeBytes();
  const bool enough = free && *free >= leastFreeBytes;
  const auto backup = lastBackup_ms();
  const bool fresh = backup && clock_() - *backup < oldBackup_ms;
  Response response;
  if (!serving || !enough) response.status = 503;
  response.body = boost::json::serialize(
      boost::json::object{{"health", serving && enough ? "open" : "troubled"},
                          {"serving", serving},
                          {"disk", enough ? "enough" : "low"},
                          {"backup", fresh    ? "fresh"
                                     : backup ? "old"
                                              : "none"}});
  response.fields.emplace_back("Cache-Control", "no-store");
  return response;
}

Response Vitals::metrics() const {
  std::string text;
  family(text, "swardwalk_build", "info", "Which version runs.");
  text += fmt::format("swardwalk_build_info{{version=\"{}\"}} 1\n", versionText);
  gauge(text, "swardwalk_start_time_seconds", "When it was started, since 1970.",
        seconds(started_ms_), "seconds");
  family(text, "swardwalk_requests", "counter", "Requests by route and status of the answer.");
  for (const auto& [key, count] : answers_) {
    text += fmt::format("swardwalk_requests_total{{route=\"{}\",status=\"{}\"}} {}\n", key.first,
                        key.second, count);
  }
  family(text, "swardwalk_request_seconds", "histogram",
         "From a request's whole header to its answer.", "seconds");
  std::uint64_t until = 0;
  for (std::size_t i = 0; i < took_.size(); ++i) {
    until += took_[i];
    const std::string bound = i < bounds_s.size() ? fmt::format("{}", bounds_s[i]) : "+Inf";
    text += fmt::format("swardwalk_request_seconds_bucket{{le=\"{}\"}} {}\n", bound, until);
  }
  text += fmt::format("swardwalk_request_seconds_count {}\n", until);
  text += fmt::format("swardwalk_request_seconds_sum {}\n",
                      std::chrono::duration<double>(tookAltogether_).count());
  gauge(text, "swardwalk_waiting_requests", "Requests that wait for the journal.", waiting_.size());
  gauge(text, "swardwalk_serving", "1, or 0 while the journal answers nobody.", serves() ? 1 : 0);
  const Traffic traffic = traffic_ ? traffic_() : Traffic{};
  gauge(text, "swardwalk_connections", "Connections that are open.", traffic.connections);
  counter(text, "swardwalk_connections_turned_away",
          "Connections that found all places taken and at work.", traffic.turnedAway);
  counter(text, "swardwalk_connections_made_room", "Connections closed for a newer one.",
          traffic.madeRoom);
  gauge(text, "swardwalk_bodies_bytes", "Bodies of requests in memory.", traffic.bodiesBytes,
        "bytes");
  gauge(text, "swardwalk_answers_bytes", "Long answers in memory.", traffic.answersBytes, "bytes");
  gauge(text, "swardwalk_resident_memory_bytes", "Memory of the process.", residentBytes(),
        "bytes");
  if (const auto free = freeBytes()) {
    gauge(text, "swardwalk_disk_free_bytes", "Room on the disk of the records.", *free, "bytes");
  }
  if (const auto backup = lastBackup_ms()) {
    gauge(text, "swardwalk_last_backup_time_seconds", "When the newest backup was made.",
          seconds(*backup), "seconds");
  }
  text += "# EOF\n";
  Response response;
  response.contentType = "application/openmetrics-text; version=1.0.0; charset=utf-8";
  response.body = std::move(text);
  response.fields.emplace_back("Cache-Control", "no-store");
  return response;
}

}  // namespace swardwalk::server
