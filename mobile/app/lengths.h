#pragma once

#include <QString>

#include "common/measure/write.h"

namespace swardwalk::mobile {

/// A length with so many decimals: "12.50 m", "41.01 ft". What a person decides from is
/// written by `measure::write`; this is for what is read off or entered.
QString lengthText(double length_m, int decimals, measure::UnitSystem units);

/// How far off something lies: "3.1 m", "12 m", "39 ft".
QString distanceText(double distance_m, measure::UnitSystem units);

/// A doubt by itself: "± 0.05 m", "± 2.43 m", "± 12 m".
QString doubtText(double u_m, measure::UnitSystem units);

}  // namespace swardwalk::mobile
