#pragma once

#include <initializer_list>
#include <string>
#include <string_view>

namespace swardwalk::server {

/// One line of RFC 4180, quoted where it must be, ended by a carriage return and line feed.
inline std::string csvLine(std::initializer_list<std::string_view> cells) {
  std::string line;
  for (const std::string_view cell : cells) {
    if (!line.empty()) line += ',';
    if (cell.find_first_of(",\"\r\n") == std::string_view::npos) {
      line += cell;
      continue;
    }
    line += '"';
    for (const char c : cell) {
      if (c == '"') line += '"';
      line += c;
    }
    line += '"';
  }
  return line + "\r\n";
}

}  // namespace swardwalk::server
