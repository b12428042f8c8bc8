#pragma once

#include <optional>
#include <string>
#include <vector>

#include "common/answers/history.h"
#include "common/answers/plan.h"
#include "common/answers/stock.h"
#include "common/repair/choice.h"

/// What a repair of one patch takes.
namespace swardwalk::answers {

/// What a choice comes to; an amount that is needed and cannot be computed is absent and
/// has its warning.
struct Material {
  const turf::SeedLot* seedLot = nullptr;
  std::optional<measure::Measured> seed_g;
  const turf::Fill* fill = nullptr;
  std::optional<measure::Measured> fill_l;
  std::optional<measure::Measured> fill_kg;
  const turf::Feed* feed = nullptr;
  std::optional<measure::Measured> feed_g;
  std::optional<double> nitrogen_g_m2;
  std::optional<double> phosphorus_g_m2;  ///< the element, from the oxide of the analysis
  std::optional<double> potassium_g_m2;
  const turf::Turf* turf = nullptr;
  std::optional<measure::Measured> turf_m2;
  std::optional<int> turfPieces;  ///< where the size of a piece is known
  std::vector<std::string> warnings;
};

/// What is at hand for one zone.
struct AtHand {
  const turf::SeedLot* seedLot = nullptr;  ///< of grasses that may grow there only
  std::string noSeedReason;                ///< where there is none
  const turf::Turf* turf = nullptr;
  const turf::Fill* fill = nullptr;
  const turf::Feed* feed = nullptr;
};

/// The feed that comes nearest to the wanted soluble nitrogen within its label: analysed
/// ones first, then those in stock; null where none is recorded.
const turf::Feed* feedAtHand(const course::CourseState& state, const Stock& stock,
                             const Settings& settings);

/// Chooses a lot whose every grass may grow in the zone: one that can come up before one
/// that cannot, in stock before not, then the one with most pure live seed, then by
/// name. The feed is `feedAtHand`. `place` is what the zone is called in a sentence.
AtHand atHand(const course::CourseState& state, const Stock& stock,
              const std::vector<std::string>& zoneSpecies, const std::string& place,
              const Settings& settings);

/// May this grass grow where these were named? Variants of a trade name count as one.
bool mayGrow(std::string_view species, const std::vector<std::string>& zoneSpecies);

/// The material of a choice for a patch as it was last seen.
Material materialFor(repair::Choice choice, const PatchProgress& patch, const AtHand& atHand,
                     const course::CourseState& state, measure::Date on, const Settings& settings);

/// Seed of a lot for an area, by the course's own rate of its grass where it has one, else by
/// live seeds wanted. Fails in words where a figure is missing.
Result<measure::Measured> seedFor_g(const measure::Measured& area_m2, const turf::SeedLot& lot,
                                    const Settings& settings);

/// The depth that several readings come to: a bowl is told by its deepest, a channel and a
/// flat hollow by their mean. One reading or more; each was read to `reading_u_mm`.
measure::Measured depthOf_mm(turf::Kind kind, const std::vector<double>& depths_mm,
                             double reading_u_mm);

/// The deepest reading since the place was last filled, mm; 0 where there is none.
double deepest_mm(const PatchStory& story);

}  // namespace swardwalk::answers
