#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "common/measure/measured.h"
#include "common/turf/kind.h"
#include "common/turf/materials.h"
#include "common/turf/species.h"

/// How much of what a repair needs. Plain values in and out.
namespace swardwalk::repair {

/// Seed in grams: area x live seeds wanted / (purity x germination x establishment x
/// seeds per gram), with the doubt of area and seed count (pure live seed: AOSA rules;
/// formula as at rangelandsgateway.org). Fails in words for purity or germination 0.
Result<measure::Measured> seedForLiveSeeds_g(const measure::Measured& area_m2,
                                             const turf::SeedLot& lot,
                                             const turf::Range& liveSeedsPerSquareCentimetre,
                                             const turf::Range& seedsPerGram,
                                             double establishment);

/// The plain rate form: area x rate / pure live seed relative to a fresh lot.
measure::Measured seedForRate_g(const measure::Measured& area_m2, const turf::Range& rate_g_m2);

/// Share of a lot by weight that is pure and alive: purity x germination.
double pureLiveSeed(const turf::SeedLot& lot);

enum class HoleForm { bowl, channel, flat };

/// Loose fill in litres for a hole: bowl = half of area x deepest (a paraboloid);
/// channel = two thirds of area x mean depth readings (parabolic cross-section);
/// flat = area x depth. More by what settles. `rakedBack` share (0..1) is taken off.
measure::Measured fill_l(HoleForm form, const measure::Measured& area_m2,
                         const measure::Measured& depth_mm, double settlesBy,
                         double rakedBackShare);

/// Feed product in grams for a rate, and the nitrogen that it gives, g/m2; nothing
/// where the analysis is unknown.
measure::Measured feed_g(const measure::Measured& area_m2, double rate_g_m2);
std::optional<double> nitrogen_g_m2(const turf::Feed& feed, double rate_g_m2);

/// Rate at which a feed gives this much nitrogen, within its label rate and ceiling;
/// the label rate where the analysis is unknown; nothing where neither is known.
std::optional<double> rateForNitrogen_g_m2(const turf::Feed& feed, double nitrogen_g_m2);

/// Mass-based elements of oxides (atomic masses of IUPAC): P = 0.436427 P2O5,
/// K = 0.830151 K2O.
double phosphorusOf(double phosphate);
double potassiumOf(double potash);

struct PackCount {
  double pack_kg = 0.0;
  int count = 0;
};

struct Order {
  std::vector<PackCount> packs;  ///< larger first; empty for bulk
  double ordered_kg = 0.0;
  double leftOver_kg = 0.0;      ///< stock plus ordered less needed
};

/// Packs that cover `missing_kg` with the least left over, fewest packs among equals.
Order leastWaste(double needed_kg, double inStock_kg, const turf::Packs& packs);

}  // namespace swardwalk::repair
