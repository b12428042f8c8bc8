#pragma once

#include <optional>
#include <span>
#include <string_view>

namespace swardwalk::turf {

/// A best value between a low and a high one (a sane range of the trade, about 80 %).
struct Range {
  double best = 0.0;
  double low = 0.0;
  double high = 0.0;

  friend bool operator==(const Range&, const Range&) = default;
};

/// All three numbers times a factor of 0 or more.
Range operator*(double factor, const Range& range);

/// What the software knows of a grass, each number with its source.
struct Species {
  std::string_view name;  ///< trade name, "creeping bentgrass"
  Range seedsPerGram;
  Range patchRate_g_m2;           ///< seed on small patches
  Range livePerSquareCentimetre;  ///< seedlings wanted: live seeds that establish
  double coldestGrows_c;          ///< daily mean below which nothing moves
  Range daysUpAt10_c;             ///< days from sowing to seen in the field
  Range daysUpAt15_c;
  Range daysUpAt20_c;
  Range sownToPuttable_d;   ///< at 13 C and more
  Range creepCool_mm_d;     ///< edge creep at 8 to 12 C mean
  Range creepWarm_mm_d;     ///< at 15 to 22 C
  Range creepUnknown_mm_d;  ///< temperature unknown
  bool creeps;              ///< spreads by stolons or rhizomes at all
  bool warmSeason;
  std::string_view source;  ///< where the numbers come from
};

/// Every grass that we know, in a fixed order; lives as long as the program.
std::span<const Species> allSpecies();

/// By trade name in any case; common variants ("bentgrass", "creeping bent", "dwarf
/// ryegrass") and botanical names count. Null where we do not know the grass.
const Species* findSpecies(std::string_view name);

/// Days from sowing until it is up at a daily mean. The pace (1/days) runs in straight
/// lines between 10, 15 and 20 C; below 10 C the best goes on along its line, which is the
/// thermal-time law days = sum / (mean - base), and the range with it; held above 20 C. Nothing
/// below `coldestGrows_c` and for a mean that is no number.
std::optional<Range> daysUp(const Species& species, double mean_c);

/// The same where the daily mean may be unknown: then the best value at 15 C, the low
/// one at 20 C and the high one at 10 C.
std::optional<Range> daysUpFor(const Species& species, std::optional<double> mean_c);

/// Edge creep to expect before anything was measured, mm a day: the cool range up to
/// 12 C, the warm one from 15 to 22 C, in between in a straight line; above 22 C the
/// warm one follows the growth potential. Nothing below `coldestGrows_c`. Heat that
/// stops a grass, shade and hunger are not in it.
std::optional<Range> creepFor(const Species& species, std::optional<double> mean_c);

/// Days from sowing until puttable: cooler than 13 C it takes 110/70 as long (common
/// practice, no source). Nothing below `coldestGrows_c`. With an unknown mean the high
/// end is that of the cooler range.
std::optional<Range> sownToPuttableFor(const Species& species, std::optional<double> mean_c);

/// Temperature growth potential 0..1 of a daily mean: exp(-0.5 ((T - Topt)/var)^2), cool
/// season 20 and 5.5 C, warm season 31 and 7 C (Gelernter & Stowell 2005, "Improved
/// overseeding programs 1. The role of weather"; the symmetric form, Celsius constants).
double growthPotential(double mean_c, bool warmSeason);

}  // namespace swardwalk::turf
