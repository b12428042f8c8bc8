#pragma once

#include <optional>
#include <span>
#include <vector>

namespace swardwalk::infill {

/// Time as grass feels it: a day counts as much as grass grows on it against a day of the
/// present, so that a rate learned in it is one in mm a day at the temperature of now.
/// Immutable; safe to share between threads.
class GrowingTime {
 public:
  /// `paces[i]` (0 or more, finite) holds from `firstDay + i` for a day; before the first a
  /// day counts 1, after the last it counts `after` (0: nothing grows any more).
  GrowingTime(double firstDay, const std::vector<double>& paces, double after);

  /// Growing days from one day to another; negative where `to` is before `from`.
  double between_d(double from, double to) const { return sumAt(to) - sumAt(from); }

  /// The day by which as much has grown since `from` (0 or more); nothing where that
  /// never comes.
  std::optional<double> dayAfter(double from, double growing_d) const;

  // What it consists of: two with the same of these are the same.
  double firstDay() const { return firstDay_; }
  double after_d() const { return after_; }
  std::span<const double> sums_d() const { return sums_; }

 private:
  double sumAt(double day) const;
  double firstDay_;
  std::vector<double> sums_;  ///< growing days from the first day to each
  double after_;
};

}  // namespace swardwalk::infill
