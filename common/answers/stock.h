#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "common/course/state.h"

namespace swardwalk::answers {

/// What is left of one material, kg (turf: m2).
struct StockLine {
  double counted = 0.0;
  double used = 0.0;      ///< since it was counted, as far as amounts are known
  int withoutAmount = 0;  ///< uses that did not say how much
  double left() const { return counted > used ? counted - used : 0.0; }
  bool overdrawn() const;  ///< more was used than was there: the count is wrong
};

/// What is in the shed: what was counted less what the records say was used since. A use
/// counts from the time stated as counted; where none is stated, if its record follows
/// that of the count. Immutable; safe to share.
class Stock {
 public:
  explicit Stock(const course::CourseState& state);

  /// Null where nobody counted it.
  const StockLine* of(course::Shelf shelf, std::string_view material) const;

  /// What is left, or nothing where nobody counted.
  std::optional<double> left(course::Shelf shelf, std::string_view material) const;

  /// A sentence for each material whose records do not fit its count.
  std::vector<std::string> notes() const;

 private:
  using Key = std::pair<course::Shelf, std::string>;
  std::map<Key, StockLine> lines_;
};

}  // namespace swardwalk::answers
