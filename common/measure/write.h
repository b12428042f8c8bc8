#pragma once

#include <string>

#include "common/measure/measured.h"

namespace swardwalk::measure {

enum class UnitSystem { metric, imperial };

/// What kind of quantity a number is; decides its unit in each system.
enum class Quantity {
  area,          ///< m2 | ft2
  length,        ///< m | ft
  depth,         ///< mm | in
  creep,         ///< mm a day | in a day
  seedMass,      ///< g | oz
  fillMass,      ///< kg | lb
  volume,        ///< l | US gal
  areaRate,      ///< g/m2 | lb/1000 ft2
  rain           ///< mm | in
};

/// A number ready to be shown: figure, doubt and unit apart, because the doubt
/// and the unit are drawn smaller and lighter than the figure.
struct Written {
  std::string figure;  ///< "1.84"
  std::string doubt;   ///< "± 0.12", empty where the uncertainty is unknown
  std::string unit;    ///< "m²"

  /// "1.84 ± 0.12 m²".
  std::string text() const;
};

/// Writes with as many digits as the uncertainty deserves: the uncertainty with
/// two significant digits where its first is 1 or 2, else one; the figure to the
/// same place. Without an uncertainty, three significant digits. The input is in
/// the SI unit named at `Quantity` (mm for depth, creep and rain; g for seed mass;
/// l for volume), and is converted exactly (NIST SP 811) before rounding.
Written write(const Measured& measured, Quantity quantity, UnitSystem system);

}  // namespace swardwalk::measure
