#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "simulated_green.h"

namespace swardwalk::infill::test {

/// How a way of forecasting did on many patches whose closing day is known.
struct Score {
  int patches = 0;  ///< that had an interval
  int covered = 0;
  int unnamed =
      0;  ///< patches whose verdict gives no date: stalled (scored all the same) or growing
  double medianWidth_d = 0.0;
  double medianError_d = 0.0;    ///< of the middle day, without sign
  double intervalScore_d = 0.0;  ///< mean; Gneiting & Raftery 2007, for a central 80 %

  double coverage() const { return static_cast<double>(covered) / patches; }
};

struct Scores {
  Score model;
  Score pooled;
  Score priorAlone;
  std::optional<Score> line;  ///< straight through the areas; three looks or more
};

/// `greens` greens by the truth, forecast at their last look; by number of sightings. The
/// pool is that of the whole green. Dates beyond ten years count as ten years.
std::map<int, Scores> scoresOf(const Truth& truth, int greens, std::uint64_t seed);

/// One line of the table of FORECAST.md.
std::string tableLine(const std::string& name, int looks, const Score& score);
std::string tableHead();

}  // namespace swardwalk::infill::test
