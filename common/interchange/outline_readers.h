#pragma once

#include <string>
#include <string_view>

#include "common/interchange/outline_file.h"

/// The readers of single kinds of files; `readOutlines` chooses among them.
namespace swardwalk::interchange {

/// What readers know of a file: its bytes without a byte order mark, the name for messages,
/// and the name of an outline that has none of its own.
struct OutlineText {
  std::string_view bytes;
  std::string file;
  std::string name;
};

void readGeoJsonOutlines(const OutlineText& text, OutlineFile& into);
void readGpxOutlines(const OutlineText& text, OutlineFile& into);
void readNmeaOutlines(const OutlineText& text, OutlineFile& into);
void readCsvOutlines(const OutlineText& text, OutlineFile& into);

inline void refuse(OutlineFile& into, std::string where, std::string what, std::string todo) {
  into.refusals.push_back(
      {FailureKind::invalid, std::move(where), std::move(what), std::move(todo)});
}

/// Takes the first line off, without its line end.
inline std::string_view takeLine(std::string_view& rest) {
  const std::size_t end = rest.find('\n');
  std::string_view line = rest.substr(0, end);
  rest.remove_prefix(end == std::string_view::npos ? rest.size() : end + 1);
  if (line.ends_with('\r')) line.remove_suffix(1);
  return line;
}

}  // namespace swardwalk::interchange
