#pragma once

#include <optional>
#include <string>
#include <vector>

#include "common/answers/nitrogen.h"
#include "common/answers/progress.h"
#include "common/repair/choice.h"

namespace swardwalk::answers {

struct PlannedOption {
  repair::Choice choice = repair::Choice::leave;
  bool possible = true;
  std::optional<measure::Date> closesOn;
  std::optional<measure::Date> puttableOn;
  std::optional<double> probabilityReady;
  std::string text;                ///< "not closed on 15 May; ready in 2 %", or why not
  std::vector<std::string> lines;  ///< the same and its material, one a line of a card
};

struct PlannedPatch {
  std::string patch;
  std::string label;
  std::string heading;
  std::string green;
  turf::Kind kind = turf::Kind::bare;
  repair::Choice choice = repair::Choice::lookAgain;
  repair::Choice advised = repair::Choice::lookAgain;  ///< what the computation recommends
  bool chosenByPerson = false;
  std::string chosenBy;  ///< "computed", or who
  std::string why;       ///< what that person gave as reason
  std::string reason;    ///< one sentence that names the number that decided
  std::vector<PlannedOption> options;
  std::string seedLot;  ///< names empty where not needed
  std::optional<measure::Measured> seed_g;
  std::string fill;
  std::optional<measure::Measured> fill_l;
  std::optional<measure::Measured> fill_kg;
  std::string feed;
  std::optional<measure::Measured> feed_g;
  std::optional<double> nitrogen_g_m2;
  std::string turf;
  std::optional<measure::Measured> turf_m2;
  repair::SowingState sowing = repair::SowingState::none;
  std::vector<std::string> warnings;
  std::optional<double> phosphorus_g_m2;  ///< P and K that the feed gives beside nitrogen
  std::optional<double> potassium_g_m2;
  std::optional<measure::Measured> sandLying_l;  ///< to be cleared off living grass
  std::vector<std::string> tasks;  ///< what else is to be done or minded, each a sentence
  std::optional<int> turfPieces;   ///< where the size of a piece is known
  std::string who;                 ///< is to do it; empty where nobody was named

  // Ready to show.
  Look look = Look::open;
  bool late = false;
  std::string choiceText;   ///< "Fill and sow"
  std::string coveredText;  ///< "10 May", when it is puttable if done; empty if unknown
  measure::Written seedText;
  measure::Written fillText;  ///< litres
  measure::Written fillMassText;
  measure::Written feedText;
  measure::Written turfText;
  measure::Written areaText;     ///< what the amounts were made for
  bool toDo = false;             ///< needs somebody today
  Weight weight = Weight::calm;  ///< of the reason
};

/// What a material is for; decides its unit and its column.
enum class MaterialSort { seed, fill, feed, turf };

struct MaterialTotal {
  std::string green;
  std::string material;
  MaterialSort sort = MaterialSort::seed;
  std::optional<measure::Measured> amount_kg;
  std::optional<measure::Measured> amount_m2;  ///< turf
  measure::Written text;
};

/// Packs are counted so that stock and order are enough in nine of ten cases
/// (needed + 1.2816 u); what is left over is against `needed`, the sum of the plan.
/// Turf is counted in m2 and has no packs.
struct OrderLine {
  std::string material;
  MaterialSort sort = MaterialSort::seed;
  std::optional<double> needed_kg;  ///< absent for turf
  std::optional<double> needed_u_kg;
  std::optional<double> enough_kg;   ///< needed in nine of ten cases
  std::optional<double> inStock_kg;  ///< counted less used since
  std::optional<double> used_kg;     ///< since it was counted
  std::vector<repair::PackCount> packs;
  bool bulk = false;
  std::optional<double> ordered_kg;
  std::optional<double> leftOver_kg;
  std::optional<double> needed_m2;
  std::optional<double> needed_u_m2;
  std::optional<double> inStock_m2;
  std::optional<double> leftOver_m2;
  std::string text;  ///< "1 pack of 250 g", "nothing to order"
  measure::Written neededText;
  std::string stockText;     ///< "in stock 60 g", "stock unknown"
  std::string leftOverText;  ///< "234 g left over", empty where unknown
  bool toOrder = false;
};

/// One green's line over its patches.
struct PlanGreen {
  std::string green;
  int toDo = 0;
  int alone = 0;
  std::string text;  ///< "7 to do, 4 left alone"
};

struct Caution {
  std::string about;
  std::string text;
  std::string source;
};

/// What one person, or nobody yet, has to do on one green today.
struct WorkLine {
  std::string green;
  std::string who;                   ///< empty: nobody was named
  std::vector<std::size_t> patches;  ///< places in the plan's own list
  std::string text;                  ///< "Tess: N7 fill and sow, N9 feed"
};

/// What goes on the cart on one trip.
struct CartLoad {
  struct Part {
    std::string patch;
    std::string label;
    double weight_kg = 0.0;
  };
  int number = 0;
  std::string green;
  std::vector<Part> parts;  ///< in the order of the work
  double weight_kg = 0.0;   ///< seed, fill, feed, and turf of known thickness
  std::string labels;       ///< "H2, H4 and H9"
  measure::Written text;
};

struct Plan {
  measure::Date on;
  std::vector<PlannedPatch> patches;    ///< open ones, by green, then patch
  std::vector<MaterialTotal> totals;    ///< by green, then material
  std::vector<OrderLine> order;         ///< by material
  std::vector<WorkLine> work;           ///< by green, then person; who is not named last
  std::vector<CartLoad> loads;          ///< by green
  std::vector<GreenNitrogen> nitrogen;  ///< by green
  std::vector<Caution> cautions;
  bool incomplete = false;
  std::string headline;            ///< "15 to do today, 19 left alone"
  std::vector<PlanGreen> greens;   ///< by name
  std::vector<MaterialTotal> all;  ///< the course's sums, by material; `green` is empty
  std::vector<std::string> notes;
};

Plan plan(const course::CourseState& state, const Progress& progress, measure::UnitSystem units);

std::string planJson(const Plan& plan);
std::string planText(const Plan& plan);
std::string planCsv(const Plan& plan);

}  // namespace swardwalk::answers
