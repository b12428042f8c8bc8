#include "server/command/config.h"

#include <fmt/format.h>

#include <toml++/toml.h>
#include <array>
#include <filesystem>

namespace swardwalk::server {
namespace {

namespace fs = std::filesystem;

constexpr const char* known = "data, listen, guarded, certificate, key, log_level";

class Config {
 public:
  Config(CommandLine& line, std::string file) : line_(line), file_(std::move(file)) {}

  Result<void> take(std::string_view key, const toml::node& value) {
    if (key == "data") return takePath(line_.data, key, value);
    if (key == "certificate") return takePath(line_.certificate, key, value);
    if (key == "key") return takePath(line_.key, key, value);
    if (key == "listen") return takeText(line_.listen, key, value);
    if (key == "log_level") return takeLevel(key, value);
    if (key == "guarded") {
      const auto* truth = value.as_boolean();
      if (!truth) return wrong(value, key, "is true or false");
      line_.guarded = line_.guarded || truth->get();
      return {};
    }
    return fail(FailureKind::invalid, at(value.source().begin.line),
                fmt::format("'{}' is nothing that can be set", key),
                fmt::format("what can be is {}", known));
  }

 private:
  std::string at(std::size_t line) const { return fmt::format("{}, line {}", file_, line); }

  tl::unexpected<Failure> wrong(const toml::node& value, std::string_view key,
                                std::string_view what) const {
    return fail(FailureKind::invalid, at(value.source().begin.line),
                fmt::format("'{}' {}", key, what), "correct it, and start again");
  }

  Result<void> takeText(std::string& into, std::string_view key, const toml::node& value) {
    const auto* text = value.as_string();
    if (!text || text->get().empty()) return wrong(value, key, "is a text in quotation marks");
    if (into.empty()) into = text->get();
    return {};
  }

  Result<void> takePath(std::string& into, std::string_view key, const toml::node& value) {
    std::string path;
    if (auto taken = takeText(path, key, value); !taken) return taken;
    if (into.empty()) into = (fs::path(file_).parent_path() / path).string();
    return {};
  }

  Result<void> takeLevel(std::string_view key, const toml::node& value) {
    std::string level;
    if (auto taken = takeText(level, key, value); !taken) return taken;
    constexpr std::array<std::string_view, 4> levels{"debug", "info", "warning", "error"};
    if (std::find(levels.begin(), levels.end(), level) == levels.end()) {
      return wrong(value, key, "is debug, info, warning or error");
    }
    if (line_.logLevel.empty()) line_.logLevel = level;
    return {};
  }

  CommandLine& line_;
  std::string file_;
};

}  // namespace

Result<void> readConfig(CommandLine& line) {
  std::error_code gone;
  if (!fs::is_regular_file(line.config, gone)) {
    return fail(FailureKind::notFound, line.config, "there is no such file",
                "look at its name and rights");
  }
  try {
    const toml::table table = toml::parse_file(line.config);
    Config config(line, line.config);
    for (const auto& [key, value] : table) {
      if (auto taken = config.take(key.str(), value); !taken) return taken;
    }
  } catch (const toml::parse_error& problem) {
    return fail(
        FailureKind::invalid, fmt::format("{}, line {}", line.config, problem.source().begin.line),
        fmt::format("this is no TOML ({})", problem.description()), "correct it, and start again");
  }
  if (line.data.empty() || line.listen.empty()) {
    return fail(FailureKind::invalid, line.config,
                fmt::format("'{}' is missing", line.data.empty() ? "data" : "listen"),
                "say it there or on the command line");
  }
  if (line.certificate.empty() != line.key.empty()) {
    return fail(FailureKind::invalid, line.config,
                "a certificate needs its key, and a key its "
                "certificate",
                "name both or neither");
  }
  return {};
}

}  // namespace swardwalk::server
