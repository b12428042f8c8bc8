#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace swardwalk::turf {

/// A best value between a low and a high one (a sane range of the trade, about 80 %).
struct Range {
  double best = 0.0;
  double low = 0.0;
  double high = 0.0;
};

/// What the software knows of a grass, each number with its source.
struct Species {
  std::string_view name;   ///< trade name, "creeping bentgrass"
  Range seedsPerGram;
  Range patchRate_g_m2;    ///< seed on small patches
  Range livePerSquareCentimetre;  ///< live seeds wanted
  double coldestGrows_c;   ///< daily mean below which nothing moves
  Range daysUpAt10_c;      ///< days from sowing to seen in the field
  Range daysUpAt15_c;
  Range daysUpAt20_c;
  Range sownToPuttable_d;  ///< at 13 C and more; absent spread: one species does not knit
  Range creepCool_mm_d;    ///< edge creep at 8 to 12 C mean
  Range creepWarm_mm_d;    ///< at 15 to 22 C
  Range creepUnknown_mm_d; ///< temperature unknown
  bool creeps;             ///< spreads by stolons or rhizomes at all
  bool warmSeason;
  std::string_view source; ///< where the numbers come from
};

std::span<const Species> allSpecies();

/// By trade name, small letters; common variants ("bentgrass", "creeping bent") count.
const Species* findSpecies(std::string_view name);

/// Days from sowing until it is up at a daily mean, interpolated between 10, 15 and
/// 20 C and held outside; nothing below `coldestGrows_c`.
std::optional<Range> daysUp(const Species& species, double mean_c);

/// Temperature growth potential 0..1 of a daily mean: exp(-0.5 ((T - Topt)/var)^2), cool
/// season 20 and 5.5 C, warm season 31 and 7 C (Gelernter & Stowell 2005).
double growthPotential(double mean_c, bool warmSeason);

}  // namespace swardwalk::turf
