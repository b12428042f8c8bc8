#pragma once

#include <optional>
#include <string_view>

#include "common/geo/position.h"

namespace swardwalk::geo {

/// Reads NMEA 0183 sentences line by line and gives a fix for each epoch that has a
/// position and a date. Position from GGA, else RMC; date from RMC or ZDA (an epoch
/// without its own takes the last one known, a day later where midnight has passed;
/// before the first there are no fixes); speed and heading from RMC; quality from GGA.
/// Accuracy from GST where sent (root of the mean of the two squared horizontal sigmas),
/// else HDOP (GGA, GSA) times `rangeError_m`, else none. Positions that a receiver calls
/// void, reckoned or typed in are none. Any talker (GP, GN, GL …) is read; other
/// sentences are counted and passed over.
///
/// A sentence with a wrong checksum, or with none, is counted as bad and never fatal; so
/// is a line of more than `longestLine`. Lines that do not begin with "$" are no
/// sentences. Never fails. Use from one thread.
class NmeaReader {
 public:
  /// The standard allows 82; receivers with more decimals send longer ones.
  static constexpr std::size_t longestLine = 256;

  /// `rangeError_m` is the receiver's user-equivalent range error for one axis.
  explicit NmeaReader(double rangeError_m = usualRangeError_m);
  static constexpr double usualRangeError_m = 3.0;

  /// One line, with or without its line end. Gives the fix of the epoch that this
  /// line completes: an epoch ends when a sentence with another time begins.
  std::optional<Fix> take(std::string_view line);

  /// The fix of the epoch that is still open, at the end of a file.
  std::optional<Fix> finish();

  int badChecksums() const { return badChecksums_; }
  int sentences() const { return sentences_; }  ///< with a good checksum

 private:
  class Fields;
  /// What the sentences of one time of day have said so far.
  struct Epoch {
    std::optional<int> time_ms;  ///< of the day, UTC
    std::optional<measure::Date> date;
    std::optional<Position> position;
    bool placedByGga = false;
    std::optional<double> hdop;
    std::optional<double> sigma_m;
    std::optional<double> speed_m_s;
    std::optional<double> heading_deg;
    FixQuality quality = FixQuality::unknown;
  };
  std::optional<Fix> begin(std::optional<int> time_ms);
  std::optional<Fix> close();
  std::optional<Fix> takeGga(const Fields& fields);
  std::optional<Fix> takeRmc(const Fields& fields);
  std::optional<Fix> takeZda(const Fields& fields);
  std::optional<Fix> takeGst(const Fields& fields);

  double rangeError_m_;
  int badChecksums_ = 0;
  int sentences_ = 0;
  Epoch epoch_;
  std::optional<measure::Instant> latest_;  ///< of the last epoch whose date was known
};

}  // namespace swardwalk::geo
