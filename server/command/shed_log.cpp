#include "server/command/shed_log.h"

#include <spdlog/pattern_formatter.h>
#include <spdlog/sinks/rotating_file_sink.h>
#include <spdlog/sinks/stdout_sinks.h>
#include <spdlog/spdlog.h>

#include <algorithm>
#include <fstream>
#include <regex>

#include "server/request_scope.h"

namespace swardwalk::server {
namespace {

constexpr const char* logName = "/shed.log";
constexpr const char* olderLogName = "/shed.1.log";
constexpr std::size_t mostLogBytes = 2 << 20;
constexpr const char* pattern = "%Y-%m-%d %H:%M:%S %l: %*%v";
/// What the pattern writes before the level: "2027-04-12 06:40:00 ".
constexpr std::size_t timeBytes = 20;

/// "%*" in the pattern: which request the line is about, where it is about one.
class RequestName final : public spdlog::custom_flag_formatter {
 public:
  void format(const spdlog::details::log_msg&, const std::tm&,
              spdlog::memory_buf_t& line) override {
    const std::string& id = RequestScope::current();
    if (id.empty()) return;
    const std::string named = "request=" + id + " ";
    line.append(named.data(), named.data() + named.size());
  }
  std::unique_ptr<custom_flag_formatter> clone() const override {
    return std::make_unique<RequestName>();
  }
};

std::unique_ptr<spdlog::formatter> ourFormat() {
  auto format = std::make_unique<spdlog::pattern_formatter>();
  format->add_flag<RequestName>('*').set_pattern(pattern);
  return format;
}

bool isOfWord(char c) {
  const auto byte = static_cast<unsigned char>(c);
  return byte >= 0x80 || (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/// Calls `visit` with each word and each stretch between words.
template <class Visit>
void eachPiece(std::string_view text, Visit visit) {
  while (!text.empty()) {
    const bool word = isOfWord(text.front());
    const auto end =
        std::find_if(text.begin(), text.end(), [word](char c) { return isOfWord(c) != word; });
    const auto size = static_cast<std::size_t>(end - text.begin());
    visit(text.substr(0, size), word);
    text.remove_prefix(size);
  }
}

void readLines(const std::string& file, std::vector<std::string>& lines) {
  std::ifstream stream(file);
  for (std::string line; std::getline(stream, line);) lines.push_back(std::move(line));
}

}  // namespace

void logToStandardError(const std::string& level) {
  auto log =
      std::make_shared<spdlog::logger>("shed", std::make_shared<spdlog::sinks::stderr_sink_mt>());
  log->set_formatter(ourFormat());
  log->set_level(level.empty() ? spdlog::level::info : spdlog::level::from_str(level));
  log->flush_on(spdlog::level::debug);
  spdlog::set_default_logger(std::move(log));
}

void logBeside(const std::string& directory) {
  try {
    auto file = std::make_shared<spdlog::sinks::rotating_file_sink_mt>(directory + logName,
                                                                       mostLogBytes, 1);
    file->set_formatter(ourFormat());
    spdlog::default_logger()->sinks().push_back(std::move(file));
  } catch (const spdlog::spdlog_ex& problem) {
    spdlog::warn("the log is not kept in a file: {}", problem.what());
  }
}

std::vector<std::string> newestLogLines(const std::string& directory, std::size_t most) {
  std::vector<std::string> lines;
  readLines(directory + olderLogName, lines);
  readLines(directory + logName, lines);
  if (lines.size() > most) {
    lines.erase(lines.begin(), lines.end() - static_cast<std::ptrdiff_t>(most));
  }
  return lines;
}

std::string scrubbed(std::string_view line, const std::unordered_set<std::string>& names) {
  // An address of version 6 has at least two colons among its digits; a path has a slash.
  static const std::regex private_(
      R"([^\s"']*/[^\s"',;]*|\[?[0-9a-fA-F]*:[0-9a-fA-F]*:[0-9a-fA-F:.%]*\]?(?::\d+)?)"
      R"(|\d{1,3}(?:\.\d{1,3}){3}(?::\d+)?|-?\d+\.\d{3,})");
  const std::string time(line.substr(0, std::min(timeBytes, line.size())));
  const std::string said = std::regex_replace(std::string(line.substr(time.size())), private_, "*");
  std::string kept = time;
  eachPiece(said, [&](std::string_view piece, bool word) {
    if (word && names.contains(std::string(piece))) {
      kept += '*';
    } else {
      kept += piece;
    }
  });
  return kept;
}

void addWords(std::string_view name, std::unordered_set<std::string>& words) {
  eachPiece(name, [&](std::string_view piece, bool word) {
    const bool number =
        std::all_of(piece.begin(), piece.end(), [](char c) { return c >= '0' && c <= '9'; });
    if (word && piece.size() > 1 && !number) words.emplace(piece);
  });
}

}  // namespace swardwalk::server
