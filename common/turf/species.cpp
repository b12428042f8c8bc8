#include "common/turf/species.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <string>

namespace swardwalk::turf {
namespace {

// Where a line says "common practice, no source" the number is the trade's rule of thumb;
// seedlings wanted are set so that the rate form, a fresh lot (85 % pure live seed) and
// half of the seed establishing agree with one another.
constexpr std::array<Species, 9> species = {
    Species{.name = "creeping bentgrass",
            .seedsPerGram = {14110, 13228, 17637},
            .patchRate_g_m2 = {8, 5, 12},
            .livePerSquareCentimetre = {4.8, 3.0, 7.0},
            .coldestGrows_c = 7,
            .daysUpAt10_c = {20, 14, 28},
            .daysUpAt15_c = {11, 8, 15},
            .daysUpAt20_c = {7, 5, 10},
            .sownToPuttable_d = {70, 50, 100},
            .creepCool_mm_d = {0.3, 0.1, 0.6},
            .creepWarm_mm_d = {1.0, 0.5, 1.8},
            .creepUnknown_mm_d = {1.0, 0.3, 1.8},
            .creeps = true,
            .warmSeason = false,
            .source = "seeds per gram: three seed houses' lists, 6.0 to 8.0 million a pound; "
                      "none up below 7 C: Heineck et al. 2019; rates, days and creep: common "
                      "practice, no source"},
    Species{.name = "velvet bentgrass",
            .seedsPerGram = {19000, 16000, 23000},
            .patchRate_g_m2 = {6, 4, 9},
            .livePerSquareCentimetre = {4.8, 3.0, 7.0},
            .coldestGrows_c = 7,
            .daysUpAt10_c = {20, 14, 28},
            .daysUpAt15_c = {11, 8, 15},
            .daysUpAt20_c = {7, 5, 10},
            .sownToPuttable_d = {75, 55, 105},
            .creepCool_mm_d = {0.25, 0.1, 0.5},
            .creepWarm_mm_d = {0.8, 0.4, 1.5},
            .creepUnknown_mm_d = {0.8, 0.25, 1.5},
            .creeps = true,
            .warmSeason = false,
            .source = "common practice, no source; days as creeping bentgrass"},
    Species{.name = "colonial bentgrass",
            .seedsPerGram = {17000, 13000, 19000},
            .patchRate_g_m2 = {8, 5, 12},
            .livePerSquareCentimetre = {5.5, 3.5, 8.0},
            .coldestGrows_c = 7,
            .daysUpAt10_c = {20, 14, 28},
            .daysUpAt15_c = {11, 8, 15},
            .daysUpAt20_c = {7, 5, 10},
            .sownToPuttable_d = {70, 50, 100},
            .creepCool_mm_d = {0.15, 0.05, 0.4},
            .creepWarm_mm_d = {0.5, 0.2, 1.0},
            .creepUnknown_mm_d = {0.5, 0.1, 1.0},
            .creeps = true,
            .warmSeason = false,
            .source = "common practice, no source; days as creeping bentgrass"},
    Species{.name = "perennial ryegrass",
            .seedsPerGram = {530, 507, 551},
            .patchRate_g_m2 = {35, 25, 50},
            .livePerSquareCentimetre = {0.8, 0.6, 1.1},
            .coldestGrows_c = 4,
            .daysUpAt10_c = {13, 10, 18},
            .daysUpAt15_c = {8, 6, 12},
            .daysUpAt20_c = {6, 4, 9},
            .sownToPuttable_d = {40, 30, 60},
            .creepCool_mm_d = {0.05, 0.01, 0.15},
            .creepWarm_mm_d = {0.15, 0.05, 0.4},
            .creepUnknown_mm_d = {0.15, 0.03, 0.4},
            .creeps = false,
            .warmSeason = false,
            .source = "seeds per gram: Cornell, 250,000 a pound, and a seed-count list, 230,000; "
                      "days: 64 degree-days above 3.6 C (Larsen & Bibby 2005) and two or three "
                      "days in the field; rates: common practice, no source"},
    Species{.name = "red fescue",
            .seedsPerGram = {1020, 882, 1213},
            .patchRate_g_m2 = {20, 15, 30},
            .livePerSquareCentimetre = {0.9, 0.6, 1.3},
            .coldestGrows_c = 5,
            .daysUpAt10_c = {17, 13, 24},
            .daysUpAt15_c = {12, 9, 16},
            .daysUpAt20_c = {9, 7, 14},
            .sownToPuttable_d = {65, 45, 90},
            .creepCool_mm_d = {0.1, 0.03, 0.3},
            .creepWarm_mm_d = {0.3, 0.1, 0.7},
            .creepUnknown_mm_d = {0.3, 0.07, 0.7},
            .creeps = true,
            .warmSeason = false,
            .source = "seeds per gram: Christians et al. 1979, mean 1,020, and 400,000 to 550,000 "
                      "a pound; days: 80 % in 14, 9, 8 d at 10, 15, 20 C (ERDC 11681/12230) and "
                      "two or three days in the field; the rest: common practice, no source"},
    Species{.name = "Kentucky bluegrass",
            .seedsPerGram = {3000, 1847, 4850},
            .patchRate_g_m2 = {12, 8, 16},
            .livePerSquareCentimetre = {1.5, 1.0, 2.2},
            .coldestGrows_c = 5,
            .daysUpAt10_c = {26, 20, 35},
            .daysUpAt15_c = {18, 14, 26},
            .daysUpAt20_c = {14, 10, 21},
            .sownToPuttable_d = {90, 65, 130},
            .creepCool_mm_d = {0.15, 0.05, 0.4},
            .creepWarm_mm_d = {0.6, 0.3, 1.2},
            .creepUnknown_mm_d = {0.6, 0.15, 1.2},
            .creeps = true,
            .warmSeason = false,
            .source = "seeds per gram: Christians et al. 1979, 1,847 to 4,413, and a seed house, "
                      "up to 4,850; days: trade lists, 14 to 30 d; the rest: common practice, no "
                      "source"},
    Species{.name = "annual bluegrass",
            .seedsPerGram = {4000, 3000, 5000},
            .patchRate_g_m2 = {8, 5, 12},
            .livePerSquareCentimetre = {1.4, 0.9, 2.0},
            .coldestGrows_c = 5,
            .daysUpAt10_c = {14, 10, 21},
            .daysUpAt15_c = {9, 7, 14},
            .daysUpAt20_c = {8, 6, 12},
            .sownToPuttable_d = {60, 45, 90},
            .creepCool_mm_d = {0.1, 0.03, 0.3},
            .creepWarm_mm_d = {0.3, 0.1, 0.7},
            .creepUnknown_mm_d = {0.3, 0.07, 0.7},
            .creeps = true,
            .warmSeason = false,
            .source = "coldest: Scherner et al. 2017, 5 C; the rest: common practice, no source"},
    Species{.name = "bermudagrass",
            .seedsPerGram = {3900, 3858, 3946},
            .patchRate_g_m2 = {8, 5, 10},
            .livePerSquareCentimetre = {1.3, 0.8, 1.7},
            .coldestGrows_c = 14,
            .daysUpAt10_c = {60, 40, 90},
            .daysUpAt15_c = {30, 20, 45},
            .daysUpAt20_c = {16, 10, 28},
            .sownToPuttable_d = {60, 45, 90},
            .creepCool_mm_d = {0.1, 0.03, 0.3},
            .creepWarm_mm_d = {1.0, 0.4, 2.0},
            .creepUnknown_mm_d = {1.0, 0.2, 3.0},
            .creeps = true,
            .warmSeason = true,
            .source = "seeds per gram: two lists, 1.75 to 1.79 million a pound; days: trade "
                      "lists, 10 to 30 d; the rest: common practice, no source"},
    Species{.name = "tall fescue",
            .seedsPerGram = {502, 496, 507},
            .patchRate_g_m2 = {35, 25, 45},
            .livePerSquareCentimetre = {0.75, 0.5, 1.0},
            .coldestGrows_c = 5,
            .daysUpAt10_c = {17, 13, 24},
            .daysUpAt15_c = {11, 8, 15},
            .daysUpAt20_c = {8, 7, 12},
            .sownToPuttable_d = {55, 40, 75},
            .creepCool_mm_d = {0.04, 0.01, 0.15},
            .creepWarm_mm_d = {0.12, 0.04, 0.35},
            .creepUnknown_mm_d = {0.12, 0.03, 0.35},
            .creeps = false,
            .warmSeason = false,
            .source = "seeds per gram: two lists, 225,000 and 230,000 a pound; days: trade list, "
                      "7 to 12 d; the rest: common practice, no source"},
};

struct Variant {
  std::string_view variant;
  std::string_view name;
};

constexpr std::array<Variant, 42> variants = {
    Variant{"bent", "creeping bentgrass"},
    Variant{"bentgrass", "creeping bentgrass"},
    Variant{"creeping bent", "creeping bentgrass"},
    Variant{"creeping bent grass", "creeping bentgrass"},
    Variant{"bent grass", "creeping bentgrass"},
    Variant{"agrostis stolonifera", "creeping bentgrass"},
    Variant{"velvet bent", "velvet bentgrass"},
    Variant{"velvet bent grass", "velvet bentgrass"},
    Variant{"agrostis canina", "velvet bentgrass"},
    Variant{"colonial bent", "colonial bentgrass"},
    Variant{"browntop", "colonial bentgrass"},
    Variant{"browntop bent", "colonial bentgrass"},
    Variant{"common bent", "colonial bentgrass"},
    Variant{"agrostis capillaris", "colonial bentgrass"},
    Variant{"rye", "perennial ryegrass"},
    Variant{"ryegrass", "perennial ryegrass"},
    Variant{"perennial rye", "perennial ryegrass"},
    Variant{"dwarf ryegrass", "perennial ryegrass"},
    Variant{"lolium perenne", "perennial ryegrass"},
    Variant{"fescue", "red fescue"},
    Variant{"fine fescue", "red fescue"},
    Variant{"creeping red fescue", "red fescue"},
    Variant{"slender creeping red fescue", "red fescue"},
    Variant{"slender red fescue", "red fescue"},
    Variant{"strong creeping red fescue", "red fescue"},
    Variant{"chewings fescue", "red fescue"},
    Variant{"festuca rubra", "red fescue"},
    Variant{"kentucky blue", "Kentucky bluegrass"},
    Variant{"bluegrass", "Kentucky bluegrass"},
    Variant{"smooth stalked meadow grass", "Kentucky bluegrass"},
    Variant{"poa pratensis", "Kentucky bluegrass"},
    Variant{"annual meadow grass", "annual bluegrass"},
    Variant{"poa", "annual bluegrass"},
    Variant{"poa annua", "annual bluegrass"},
    Variant{"bermuda", "bermudagrass"},
    Variant{"bermuda grass", "bermudagrass"},
    Variant{"hybrid bermudagrass", "bermudagrass"},
    Variant{"couch", "bermudagrass"},
    Variant{"cynodon", "bermudagrass"},
    Variant{"cynodon dactylon", "bermudagrass"},
    Variant{"festuca arundinacea", "tall fescue"},
    Variant{"turf type tall fescue", "tall fescue"},
};

constexpr double coolAgainstWarmSowing = 110.0 / 70.0;
constexpr double warmSowingFrom_c = 13.0;
constexpr double coolCreepTo_c = 12.0;
constexpr double warmCreepFrom_c = 15.0;
constexpr double warmCreepTo_c = 22.0;
// Nobody waits longer for a seed than this; it also keeps the thermal-time law finite
// where it runs against its base.
constexpr double longestUp_d = 90.0;

// Small letters, hyphens as spaces, single spaces.
std::string plainName(std::string_view name) {
  std::string plain;
  for (const char c : name) {
    const bool space = c == ' ' || c == '-' || c == '\t';
    if (space) {
      if (!plain.empty() && plain.back() != ' ') plain.push_back(' ');
    } else {
      plain.push_back(static_cast<char>(std::tolower(static_cast<unsigned char>(c))));
    }
  }
  if (!plain.empty() && plain.back() == ' ') plain.pop_back();
  return plain;
}

double daysAt(double mean_c, double at10, double at15, double at20) {
  const double pace10 = 1.0 / at10;
  const double pace15 = 1.0 / at15;
  const double pace20 = 1.0 / at20;
  double pace = pace20;
  if (mean_c < 15.0) {
    pace = pace10 + (pace15 - pace10) * (mean_c - 10.0) / 5.0;
  } else if (mean_c < 20.0) {
    pace = pace15 + (pace20 - pace15) * (mean_c - 15.0) / 5.0;
  }
  return 1.0 / std::max(pace, 1.0 / longestUp_d);
}

Range between(const Range& a, const Range& b, double share) {
  const auto mix = [share](double from, double to) { return from + (to - from) * share; };
  return {mix(a.best, b.best), mix(a.low, b.low), mix(a.high, b.high)};
}

// Also true for a mean that is no number.
bool tooCold(const Species& grass, double mean_c) { return !(mean_c >= grass.coldestGrows_c); }

}  // namespace

Range operator*(double factor, const Range& range) {
  return {factor * range.best, factor * range.low, factor * range.high};
}

std::span<const Species> allSpecies() { return species; }

const Species* findSpecies(std::string_view name) {
  const std::string plain = plainName(name);
  std::string_view wanted = plain;
  for (const Variant& variant : variants) {
    if (variant.variant == plain) wanted = variant.name;
  }
  const std::string target = plainName(wanted);
  for (const Species& grass : species) {
    if (plainName(grass.name) == target) return &grass;
  }
  return nullptr;
}

std::optional<Range> daysUp(const Species& grass, double mean_c) {
  if (tooCold(grass, mean_c)) return std::nullopt;
  const Range& a = grass.daysUpAt10_c;
  const double best = daysAt(mean_c, a.best, grass.daysUpAt15_c.best, grass.daysUpAt20_c.best);
  // In the cold the ends keep their ratio to the best: each on its own line would cross it.
  if (mean_c < 10.0) return best / a.best * a;
  const Range& b = grass.daysUpAt15_c;
  const Range& c = grass.daysUpAt20_c;
  return Range{best, daysAt(mean_c, a.low, b.low, c.low), daysAt(mean_c, a.high, b.high, c.high)};
}

std::optional<Range> daysUpFor(const Species& grass, std::optional<double> mean_c) {
  if (mean_c) return daysUp(grass, *mean_c);
  return Range{grass.daysUpAt15_c.best, grass.daysUpAt20_c.low, grass.daysUpAt10_c.high};
}

std::optional<Range> creepFor(const Species& grass, std::optional<double> mean_c) {
  if (!mean_c) return grass.creepUnknown_mm_d;
  if (tooCold(grass, *mean_c)) return std::nullopt;
  if (*mean_c <= coolCreepTo_c) return grass.creepCool_mm_d;
  if (*mean_c < warmCreepFrom_c) {
    return between(grass.creepCool_mm_d, grass.creepWarm_mm_d,
                   (*mean_c - coolCreepTo_c) / (warmCreepFrom_c - coolCreepTo_c));
  }
  if (*mean_c <= warmCreepTo_c) return grass.creepWarm_mm_d;
  return growthPotential(*mean_c, grass.warmSeason) /
         growthPotential(warmCreepTo_c, grass.warmSeason) * grass.creepWarm_mm_d;
}

std::optional<Range> sownToPuttableFor(const Species& grass, std::optional<double> mean_c) {
  const Range& warm = grass.sownToPuttable_d;
  if (!mean_c) return Range{warm.best, warm.low, coolAgainstWarmSowing * warm.high};
  if (tooCold(grass, *mean_c)) return std::nullopt;
  return *mean_c < warmSowingFrom_c ? coolAgainstWarmSowing * warm : warm;
}

double growthPotential(double mean_c, bool warmSeason) {
  const double optimum_c = warmSeason ? 31.0 : 20.0;
  const double spread_c = warmSeason ? 7.0 : 5.5;
  const double off = (mean_c - optimum_c) / spread_c;
  return std::exp(-0.5 * off * off);
}

}  // namespace swardwalk::turf
