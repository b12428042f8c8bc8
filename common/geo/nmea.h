#pragma once

#include <optional>
#include <string_view>

#include "common/geo/position.h"

namespace swardwalk::geo {

/// Reads NMEA 0183 sentences line by line and gives a fix for each epoch that has a
/// position and a date. Accuracy from GST where sent (root of the mean of the two
/// squared horizontal sigmas), else HDOP times `rangeError_m`. Bad checksums are
/// counted, never fatal. Use from one thread.
class NmeaReader {
 public:
  /// `rangeError_m` is the receiver's user-equivalent range error for one axis.
  explicit NmeaReader(double rangeError_m = 3.0);

  /// One line, with or without its line end. Gives the fix of the epoch that this
  /// line completes: an epoch ends when a sentence with another time begins.
  std::optional<Fix> take(std::string_view line);

  /// The fix of the epoch that is still open, at the end of a file.
  std::optional<Fix> finish();

  int badChecksums() const { return badChecksums_; }
  int sentences() const { return sentences_; }

 private:
  struct Epoch;
  std::optional<Fix> close();
  double rangeError_m_;
  int badChecksums_ = 0;
  int sentences_ = 0;
  std::optional<measure::Date> date_;
  double utc_s_ = -1.0;
  std::optional<Position> position_;
  std::optional<double> hdop_;
  std::optional<double> sigma_m_;
  std::optional<double> speed_m_s_;
  std::optional<double> heading_deg_;
  FixQuality quality_ = FixQuality::unknown;
};

}  // namespace swardwalk::geo
