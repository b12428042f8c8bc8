#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "common/measure/write.h"

/// Tables for the terminal and for spreadsheets.
namespace swardwalk::answers {

/// Columns that line up: texts to the left, figures to the right with their ± and unit in
/// columns of their own after them. Widths count code points.
class TextTable {
 public:
  /// A column of words.
  void words(std::string heading);
  /// A column of figures: three in one, figure, ±, unit.
  void figures(std::string heading);

  /// Cells go into the current row, left to right.
  void row();
  void cell(std::string text);
  void cell(const measure::Written& written);

  /// A line of its own between rows, from the left edge.
  void section(std::string text);

  /// Every line ends with a line feed and has no blank at its end.
  std::string text() const;

 private:
  struct Column {
    std::string heading;
    bool figures = false;
  };
  struct Row {
    bool isSection = false;
    std::vector<measure::Written> cells;  ///< words stand in `figure`
  };
  std::vector<Column> columns_;
  std::vector<Row> rows_;
};

/// Breaks a sentence at blanks so that no line is longer than `width` code points;
/// following lines begin with `indent` blanks.
std::string wrapped(std::string_view text, std::size_t width, std::size_t indent);

/// One record of a CSV file (RFC 4180): quoted where it must be, ended by CR LF.
std::string csvRecord(const std::vector<std::string>& fields);

/// A plain number for CSV; empty where there is none.
std::string csvNumber(std::optional<double> value);

}  // namespace swardwalk::answers
