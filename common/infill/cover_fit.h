#pragma once

#include <optional>
#include <span>
#include <vector>

#include "common/infill/growing_time.h"
#include "common/measure/measured.h"
#include "common/turf/species.h"

namespace swardwalk::infill {

/// How much of a place was covered on a day, 0..1.
struct CoverSeen {
  double day = 0.0;
  measure::Measured share;
};

/// A place counts as closed from this cover.
inline constexpr double coveredShare = 0.95;

/// How unevenly a stand covers, besides the uncertainty of looking (common practice, no
/// source).
inline constexpr double unevenCover = 0.05;

/// What a share is taken to be uncertain by where nobody said.
inline constexpr double assumedCover_u = 0.10;

/// Pace of logistic cover from living plants inside, a growing day (common practice, no
/// source; bermudagrass after traffic 0.10, reference: NTEP 2007 test, Gainesville).
inline constexpr turf::Range coverPace_d = {0.08, 0.04, 0.16};

/// Below this cover a logistic curve says nothing of its end: no date is given from looks
/// alone (common practice, no source).
inline constexpr double coverThatTells = 0.2;

/// How cover goes, fitted without prior: its pace a growing day with the central 80 %.
struct CoverPace {
  double pace = 0.0;
  double low = 0.0;
  double high = 0.0;
};

/// Logistic cover through three looks or more over some days; nothing otherwise.
std::optional<CoverPace> coverPaceOf(std::span<const CoverSeen> looks, const GrowingTime* time);

/// Equally likely days (ascending) on which a sown place is covered: prior days of closing
/// (equally likely, ascending) weighed by how well a logistic curve from 5 % on `startDay`
/// to 95 % at the closing, somewhat steeper or flatter, meets what was seen. Never before
/// the last look that found it open.
std::vector<double> closesAfterSowing(std::span<const double> priorDays, double startDay,
                                      std::span<const CoverSeen> looks);

/// The same for living plants inside without a sowing: logistic cover with the pace's prior
/// and what was seen. `looks` by day, not empty. Infinite: it never comes.
std::vector<double> closesFromInside(std::span<const CoverSeen> looks, const GrowingTime* time);

}  // namespace swardwalk::infill
