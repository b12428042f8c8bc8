#include "common/interchange/outline_file.h"

#include <fmt/format.h>

#include <algorithm>

#include "common/geo/walk.h"
#include "common/interchange/outline_readers.h"

namespace swardwalk::interchange {
namespace {

/// The file's name without folder and ending.
std::string stemOf(const std::string& file) {
  const std::size_t slash = file.find_last_of('/');
  std::string stem = slash == std::string::npos ? file : file.substr(slash + 1);
  const std::size_t dot = stem.find_last_of('.');
  if (dot != std::string::npos && dot > 0) stem.resize(dot);
  return stem;
}

/// Text holds no control signs but blanks; a few are left to damaged logs.
bool isText(std::string_view bytes) {
  constexpr std::size_t looked = 4096;
  constexpr std::ptrdiff_t fewest = 8;
  const std::string_view head = bytes.substr(0, looked);
  const auto strange = std::count_if(head.begin(), head.end(), [](char sign) {
    const auto code = static_cast<unsigned char>(sign);
    return code < 0x20 && sign != '\n' && sign != '\r' && sign != '\t';
  });
  const bool hasZero = head.find('\0') != std::string_view::npos;
  return !hasZero && strange <= fewest;
}

bool isNmea(std::string_view bytes) {
  constexpr int linesLooked = 20;
  for (int line = 0; line < linesLooked && !bytes.empty(); ++line) {
    const std::string_view first = takeLine(bytes);
    if (first.starts_with("$G") || first.starts_with("$B") || first.starts_with("$P")) return true;
  }
  return false;
}

}  // namespace

OutlineFile readOutlines(const SourceFile& file) {
  OutlineFile read;
  if (file.bytes.size() > limits::outlineFileBytes) {
    refuse(read, file.name, fmt::format("larger than {} MiB", limits::outlineFileBytes >> 20),
           fmt::format("give one walk or outline a file; a walk has at most {} positions",
                       geo::mostFixesOfWalk));
    return read;
  }
  OutlineText text{file.bytes, file.name, stemOf(file.name)};
  // Some editors begin UTF-8 with a mark of their own.
  if (text.bytes.starts_with("\xEF\xBB\xBF")) text.bytes.remove_prefix(3);
  const std::size_t begin = text.bytes.find_first_not_of(" \t\r\n");
  if (begin == std::string_view::npos) {
    refuse(read, file.name, "the file is empty", "give GeoJSON, GPX, an NMEA log or CSV");
  } else if (!isText(text.bytes)) {
    refuse(read, file.name, "this is not text in UTF-8", "give GeoJSON, GPX, an NMEA log or CSV");
  } else if (text.bytes[begin] == '{' || text.bytes[begin] == '[') {
    readGeoJsonOutlines(text, read);
  } else if (text.bytes[begin] == '<') {
    readGpxOutlines(text, read);
  } else if (isNmea(text.bytes)) {
    readNmeaOutlines(text, read);
  } else {
    readCsvOutlines(text, read);
  }
  return read;
}

}  // namespace swardwalk::interchange
