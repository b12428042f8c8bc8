#pragma once

/// Exact factors of the international yard and pound (1959; NIST SP 811).
namespace swardwalk::measure {

inline constexpr double metresPerInch = 0.0254;
inline constexpr double metresPerFoot = 0.3048;
inline constexpr double squareMetresPerSquareFoot = metresPerFoot * metresPerFoot;
inline constexpr double kilogramsPerPound = 0.45359237;
inline constexpr double gramsPerOunce = 28.349523125;
inline constexpr double litresPerUsGallon = 3.785411784;

/// 1 lb/1000 ft2 in g/m2.
inline constexpr double gramsPerSquareMetrePerPoundPer1000SquareFeet =
    kilogramsPerPound * 1000.0 / (1000.0 * squareMetresPerSquareFoot);

}  // namespace swardwalk::measure
