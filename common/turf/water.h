#pragma once

/// Water that grass on sand gives off, and what runs through below its roots.
namespace swardwalk::turf {

/// Reference evaporation of a day, mm: 0.0023 (Tmean + 17.8) sqrt(Tmax - Tmin) 0.408 Ra, with
/// the sun's radiation at the top of the air Ra from latitude and day of year (Hargreaves;
/// FAO-56 equations 21 to 25 and 52). `dayOfYear` is 1 to 366. 0 where the mean lies below
/// -17.8 C and in the polar night; the minimum counts as the maximum where it lies above.
double referenceEvaporation_mm(double latitude_deg, int dayOfYear, double min_c, double max_c);

/// Radiation at the top of the air, MJ/m2 a day (FAO-56 equation 21).
double radiation_MJ_m2(double latitude_deg, int dayOfYear);

/// Share of a surface dressing of nitrate that has gone below the roots after `drained_mm`
/// ran through: (P / (P + Vm/100))^h with P the drainage and h the roots' depth in cm, Vm the
/// water that the sand holds in per cent of its volume (Burns 1975, J. Agric. Sci. 85:443).
/// 0 without drainage. Shares of successive rains do not combine: give all that ran through
/// since the dressing.
double washedDown(double drained_mm, double roots_mm, double holds_share);

}  // namespace swardwalk::turf
