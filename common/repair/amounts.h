#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "common/failure.h"
#include "common/measure/measured.h"
#include "common/turf/kind.h"
#include "common/turf/materials.h"
#include "common/turf/species.h"

/// How much of what a repair needs. Plain values in and out; doubts are propagated as in
/// JCGM 100:2008 5.1.2. What a person decides (a rate, seedlings wanted) carries no doubt;
/// a range that nature sets (seeds per gram) is a central 80 %, u = (high - low) / (2 x
/// 1.2816). An area without uncertainty gives amounts without.
namespace swardwalk::repair {

/// Share of a lot by weight that is pure and alive: purity x germination.
double pureLiveSeed(const turf::SeedLot& lot);

/// Bulk seed for one weight of pure live seed: 1 / (purity x germination). Fails in
/// words where either is 0, above 1 or no number.
Result<double> bulkForPureLive(const turf::SeedLot& lot);

/// Seed in grams: area x seedlings wanted / (purity x germination x establishment x seeds
/// per gram), with the doubt of area and seed count (pure live seed: AOSA rules; formula
/// as at rangelandsgateway.org). The lot's own seed count is used where it has one.
/// Fails in words where purity, germination, establishment or the seed count leave
/// nothing to divide by.
Result<measure::Measured> seedForLiveSeeds_g(const measure::Measured& area_m2,
                                             const turf::SeedLot& lot,
                                             const turf::Range& liveSeedsPerSquareCentimetre,
                                             const turf::Range& seedsPerGram, double establishment);

/// The plain rate form: area x the best of the rate.
measure::Measured seedForRate_g(const measure::Measured& area_m2, const turf::Range& rate_g_m2);

/// Pure live seed of a fresh lot, for which rates are meant (common practice, no source).
inline constexpr double freshPureLiveSeed = 0.85;

/// The rate form for this lot: more of a lot that is less alive than a fresh one, less of
/// a better one. Fails as `bulkForPureLive` does.
Result<measure::Measured> seedForRate_g(const measure::Measured& area_m2,
                                        const turf::Range& rate_g_m2, const turf::SeedLot& lot);

enum class HoleForm { bowl, channel, flat };

/// Loose fill in litres for a hole: bowl = half of area x deepest (a paraboloid);
/// channel = two thirds of area x the depth along its middle (parabolic cross-section);
/// flat = area x depth. More by what settles, as a share (0 up to below 1) of the loose
/// depth: level after settling needs 1 / (1 - settlesBy). `rakedBack` share (0..1) of
/// the hole is taken off. Where turf goes on top the fill ends `turf_mm` below the
/// surface: what is dug out where the hole is shallower goes into its deeper part; 0
/// where that is enough.
measure::Measured fill_l(HoleForm form, const measure::Measured& area_m2,
                         const measure::Measured& depth_mm, double settlesBy, double rakedBackShare,
                         double turf_mm = 0.0);

/// Mean and standard uncertainty of depth readings along a channel: what varies from
/// reading to reading, and `reading_u_mm` of each. Nothing where there is none.
std::optional<measure::Measured> meanDepth_mm(std::span<const double> readings_mm,
                                              double reading_u_mm);

/// Share of its loose depth by which a fill settles where nobody said: loose 20 % (15 to
/// 30), firmed 10 % (5 to 15). Common practice, no source.
inline constexpr double settlesLoose = 0.20;
inline constexpr double settlesFirmed = 0.10;

/// Kilograms of a loose fill.
measure::Measured fill_kg(const measure::Measured& fill_l, const turf::Fill& fill);

/// Feed product in grams for a rate.
measure::Measured feed_g(const measure::Measured& area_m2, double rate_g_m2);

/// The nitrogen that a rate gives, g/m2; nothing where the analysis is unknown.
std::optional<double> nitrogen_g_m2(const turf::Feed& feed, double rate_g_m2);

/// Rate at which a feed gives this much nitrogen, within its label rate and ceiling; the
/// label rate where the analysis is unknown or without nitrogen; nothing where neither
/// is known.
std::optional<double> rateForNitrogen_g_m2(const turf::Feed& feed, double nitrogen_g_m2);

/// Mass-based elements of oxides (atomic masses of IUPAC): P = 0.436427 P2O5,
/// K = 0.830151 K2O.
double phosphorusOf(double phosphate);
double potassiumOf(double potash);

struct PackCount {
  double pack_kg = 0.0;
  int count = 0;

  friend bool operator==(const PackCount&, const PackCount&) = default;
};

struct Order {
  std::vector<PackCount> packs;  ///< larger first; empty for bulk
  double ordered_kg = 0.0;
  double leftOver_kg = 0.0;  ///< stock plus ordered less needed
};

/// Packs that cover what stock does not, with the least left over, fewest packs among
/// equals, larger ones first among those. Sizes count to the gram. Bulk, and a material
/// whose pack sizes nobody knows, is ordered as just what is missing. Stock below 0
/// counts as none.
Order leastWaste(double needed_kg, double inStock_kg, const turf::Packs& packs);

}  // namespace swardwalk::repair
