#include "common/answers/text_table.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <charconv>
#include <cmath>

namespace swardwalk::answers {
namespace {

std::size_t width(std::string_view text) {
  // Bytes that go on with a code point (10xxxxxx) take no column.
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
  }));
}

std::string blanks(std::size_t wanted, std::size_t taken) {
  return std::string(wanted > taken ? wanted - taken : 0, ' ');
}

struct Widths {
  std::size_t figure = 0;
  std::size_t doubt = 0;
  std::size_t unit = 0;

  std::size_t all() const {
    return figure + (doubt > 0 ? 1 + doubt : 0) + (unit > 0 ? 1 + unit : 0);
  }
};

}  // namespace

void TextTable::words(std::string heading) { columns_.push_back({std::move(heading), false}); }

void TextTable::figures(std::string heading) { columns_.push_back({std::move(heading), true}); }

void TextTable::row() { rows_.emplace_back(); }

void TextTable::cell(std::string text) { cell(measure::Written{std::move(text), "", ""}); }

void TextTable::cell(const measure::Written& written) {
  assert(!rows_.empty() && !rows_.back().isSection);
  rows_.back().cells.push_back(written);
  assert(rows_.back().cells.size() <= columns_.size());
}

void TextTable::section(std::string text) {
  rows_.push_back({true, {measure::Written{std::move(text), "", ""}}});
}

std::string TextTable::text() const {
  std::vector<Widths> widths(columns_.size());
  for (const Row& row : rows_) {
    if (row.isSection) continue;
    for (std::size_t i = 0; i < row.cells.size(); ++i) {
      widths[i].figure = std::max(widths[i].figure, width(row.cells[i].figure));
      widths[i].doubt = std::max(widths[i].doubt, width(row.cells[i].doubt));
      widths[i].unit = std::max(widths[i].unit, width(row.cells[i].unit));
    }
  }
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    const std::size_t heading = width(columns_[i].heading);
    if (heading > widths[i].all()) widths[i].figure += heading - widths[i].all();
  }
  std::string out;
  const auto endLine = [&out] {
    while (!out.empty() && out.back() == ' ') out.pop_back();
    out += '\n';
  };
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    const std::string pad = blanks(widths[i].all(), width(columns_[i].heading));
    // A heading stands over its figures: right-aligned as they are.
    out += columns_[i].figures ? pad + columns_[i].heading : columns_[i].heading + pad;
    out += "  ";
  }
  endLine();
  for (const Row& row : rows_) {
    if (row.isSection) {
      out += row.cells.front().figure;
      endLine();
      continue;
    }
    for (std::size_t i = 0; i < row.cells.size(); ++i) {
      const measure::Written& cell = row.cells[i];
      const std::string pad = blanks(widths[i].figure, width(cell.figure));
      out += columns_[i].figures ? pad + cell.figure : cell.figure + pad;
      const auto after = [&](const std::string& part, std::size_t wide) {
        if (wide == 0) return;
        out += ' ';
        out += part;
        out += blanks(wide, width(part));
      };
      after(cell.doubt, widths[i].doubt);
      after(cell.unit, widths[i].unit);
      out += "  ";
    }
    endLine();
  }
  return out;
}

std::string wrapped(std::string_view text, std::size_t wide, std::size_t indent) {
  std::string out;
  std::size_t column = 0;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(' '), text.size());
    const std::string_view piece = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    if (column > 0 && column + 1 + width(piece) > wide) {
      out += '\n';
      out.append(indent, ' ');
      column = indent;
    } else if (column > 0) {
      out += ' ';
      ++column;
    }
    out += piece;
    column += width(piece);
  }
  return out;
}

std::string csvRecord(const std::vector<std::string>& fields) {
  std::string out;
  for (std::size_t i = 0; i < fields.size(); ++i) {
    if (i > 0) out += ',';
    const bool quote = fields[i].find_first_of("\",\r\n") != std::string::npos;
    if (!quote) {
      out += fields[i];
      continue;
    }
    out += '"';
    for (const char c : fields[i]) {
      if (c == '"') out += '"';
      out += c;
    }
    out += '"';
  }
  out += "\r\n";
  return out;
}

std::string csvNumber(std::optional<double> value) {
  if (!value || !std::isfinite(*value)) return {};
  if (*value == 0.0) return "0";
  std::array<char, 1200> digits;
  const auto written =
      std::to_chars(digits.data(), digits.data() + digits.size(), *value, std::chars_format::fixed);
  return std::string(digits.data(), written.ptr);
}

}  // namespace swardwalk::answers
