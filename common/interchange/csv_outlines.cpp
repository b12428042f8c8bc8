#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>

#include "common/interchange/outline_readers.h"
#include "common/interchange/track_builder.h"

namespace swardwalk::interchange {
namespace {

constexpr std::size_t columnsKnown = 4;
constexpr std::size_t columnsMost = 64;
constexpr std::size_t absent = columnsMost;

std::vector<std::string_view> cellsOf(std::string_view line, char separator) {
  std::vector<std::string_view> cells;
  while (cells.size() < columnsMost) {
    const std::size_t end = line.find(separator);
    cells.push_back(line.substr(0, end));
    if (end == std::string_view::npos) break;
    line.remove_prefix(end + 1);
  }
  return cells;
}

/// Where each of latitude, longitude, accuracy and time stands in a line.
using Columns = std::array<std::size_t, columnsKnown>;

std::string plainName(std::string_view cell) {
  std::string name;
  for (const char sign : cell) {
    if (std::isalpha(static_cast<unsigned char>(sign)) != 0 || sign == '_')
      name += static_cast<char>(std::tolower(static_cast<unsigned char>(sign)));
  }
  return name;
}

Columns columnsNamed(const std::vector<std::string_view>& head) {
  Columns columns;
  columns.fill(absent);
  for (std::size_t i = 0; i < head.size(); ++i) {
    const std::string name = plainName(head[i]);
    if (name == "lat" || name == "latitude") columns[0] = i;
    if (name == "lon" || name == "lng" || name == "longitude") columns[1] = i;
    if (name == "accuracy_m" || name == "accuracy") columns[2] = i;
    if (name == "time") columns[3] = i;
  }
  return columns;
}

void addLine(TrackBuilder& track, const std::vector<std::string_view>& cells,
             const Columns& columns, std::size_t number) {
  const auto cell = [&](std::size_t column) {
    const std::size_t at = columns[column];
    return at < cells.size() ? cells[at] : std::string_view();
  };
  const auto isBlank = [](std::string_view text) {
    return text.find_first_not_of(" \t\"") == std::string_view::npos;
  };
  const std::string where = fmt::format("line {}", number);
  ReadPosition position{numberIn(cell(0)), numberIn(cell(1)), numberIn(cell(2)), timeIn(cell(3))};
  if (!position.accuracy_m && !isBlank(cell(2)))
    return track.pass(where + ": the accuracy is not a number");
  if (!position.time && !isBlank(cell(3)))
    return track.pass(where + ": the time is neither RFC 3339 nor seconds");
  track.add(position, where);
}

}  // namespace

void readCsvOutlines(const OutlineText& text, OutlineFile& into) {
  std::string_view rest = text.bytes;
  TrackBuilder track;
  Columns columns{0, 1, 2, 3};
  char separator = ',';
  bool first = true;
  for (std::size_t number = 1; !rest.empty() && !track.isFull(); ++number) {
    const std::string_view line = takeLine(rest);
    if (line.find_first_not_of(" \t") == std::string_view::npos || line.starts_with('#')) continue;
    if (first) {
      if (line.find(',') == std::string_view::npos && line.find(';') != std::string_view::npos)
        separator = ';';
    }
    const auto cells = cellsOf(line, separator);
    if (first && !numberIn(cells.front())) {
      first = false;
      const Columns named = columnsNamed(cells);
      if (named[0] != absent && named[1] != absent) {
        columns = named;
        continue;
      }
      if (cells.size() < 2) {
        refuse(into, text.file, "neither GeoJSON, GPX, an NMEA log nor CSV",
               "write a position a line: lat,lon[,accuracy_m[,time]]");
        return;
      }
    }
    first = false;
    addLine(track, cells, columns, number);
  }
  auto outline = std::move(track).build(text.name);
  if (!outline) {
    outline.error().where = text.file;
    into.refusals.push_back(std::move(outline.error()));
    return;
  }
  into.outlines.push_back(std::move(*outline));
}

}  // namespace swardwalk::interchange
