#pragma once

#include <string>

#include "common/measure/measured.h"

namespace swardwalk::measure {

enum class UnitSystem { metric, imperial };

/// What kind of quantity a number is; decides its unit in each system. What `write`
/// takes and gives back is in the first unit named, except for `share`.
enum class Quantity {
  area,         ///< m2 | ft2
  length,       ///< m | ft
  depth,        ///< mm | in
  creep,        ///< mm a day | in a day
  seedMass,     ///< g | oz
  fillMass,     ///< kg | lb
  volume,       ///< l | US gal
  areaRate,     ///< g/m2 | lb/1000 ft2; feed, seed and nitrogen
  smallRate,    ///< g/m2 | oz/1000 ft2
  rain,         ///< mm | in
  temperature,  ///< degrees Celsius | Fahrenheit, on the scale (not a difference)
  share         ///< 0..1, written in per cent in both systems
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
///
/// Rounding is to the nearest. No figure is finer than the quantity's finest place
/// (area 0.0001 m², length 0.001 m, seed 0.01 g …): a smaller uncertainty is written
/// as one step of it, never as 0. An exact number (uncertainty 0) has up to six
/// significant digits, no closing zeros, and "± 0". There is no exponent, no sign for
/// thousands and no negative zero; a minus is "−". What is not a number or is 10^12
/// and over is "not known", without doubt and unit.
Written write(const Measured& measured, Quantity quantity, UnitSystem system);

/// A number that somebody set, which has no doubt: "0.7 g/m²", up to six digits.
std::string writeSet(double value, Quantity quantity, UnitSystem system);

/// A forecast's chance, 0..1, in whole per cent. No forecast is certain, not even where
/// every draw agreed: "under 1 %", "83 %", "over 99 %". Outside 0..1 or not a number:
/// "not known".
std::string writeChance(double probability);

/// A share that somebody judged or that follows from two areas, 0..1, in whole per cent: "70 %".
/// Outside 0..1 or not a number: "not known".
std::string writeShare(double share);

/// "m²", "lb/1000 ft²".
std::string unitText(Quantity quantity, UnitSystem system);

/// The number in the unit that `system` shows, and back. Exact factors, so that a
/// round trip keeps every shown digit. Thread safe.
double inUnit(double value, Quantity quantity, UnitSystem system);
double fromUnit(double shown, Quantity quantity, UnitSystem system);

}  // namespace swardwalk::measure
