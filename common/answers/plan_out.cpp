#include <fmt/format.h>

#include <algorithm>
#include <boost/json.hpp>

#include "common/answers/json_text.h"
#include "common/answers/plan.h"
#include "common/answers/sentences.h"
#include "common/answers/text_table.h"

namespace swardwalk::answers {
namespace {

namespace json = boost::json;

json::array textsOf(const std::vector<std::string>& texts) {
  json::array array;
  for (const std::string& text : texts) array.emplace_back(text);
  return array;
}

json::object objectOf(const PlannedPatch& patch) {
  json::array options;
  for (const PlannedOption& option : patch.options) {
    if (!option.possible) continue;
    options.push_back(json::object{{"choice", repair::word(option.choice)},
                                   {"closes_on", isoOrNull(option.closesOn)},
                                   {"puttable_on", isoOrNull(option.puttableOn)},
                                   {"probability_ready", number(option.probabilityReady)},
                                   {"text", option.text}});
  }
  return {{"patch", patch.patch},
          {"label", patch.label},
          {"green", textOrNull(patch.green)},
          {"kind", turf::word(patch.kind)},
          {"choice", repair::word(patch.choice)},
          {"chosen_by", patch.chosenBy},
          {"reason", patch.reason},
          {"options", std::move(options)},
          {"seed_lot", textOrNull(patch.seedLot)},
          {"seed_g", valueOf(patch.seed_g)},
          {"seed_u_g", uncertaintyOf(patch.seed_g)},
          {"fill", textOrNull(patch.fill)},
          {"fill_l", valueOf(patch.fill_l)},
          {"fill_u_l", uncertaintyOf(patch.fill_l)},
          {"fill_kg", valueOf(patch.fill_kg)},
          {"feed", textOrNull(patch.feed)},
          {"feed_g", valueOf(patch.feed_g)},
          {"nitrogen_g_m2", number(patch.nitrogen_g_m2)},
          {"phosphorus_g_m2", number(patch.phosphorus_g_m2)},
          {"potassium_g_m2", number(patch.potassium_g_m2)},
          {"turf_m2", valueOf(patch.turf_m2)},
          {"turf_pieces", patch.turfPieces ? json::value(*patch.turfPieces) : json::value()},
          {"who", textOrNull(patch.who)},
          {"sowing_state", textOrNull(repair::word(patch.sowing))},
          {"sand_lying_l", valueOf(patch.sandLying_l)},
          {"tasks", textsOf(patch.tasks)},
          {"warnings", textsOf(patch.warnings)}};
}

json::object objectOf(const MaterialTotal& total) {
  json::object object{{"green", textOrNull(total.green)},
                      {"material", total.material},
                      {"amount_kg", valueOf(total.amount_kg)},
                      {"amount_u_kg", uncertaintyOf(total.amount_kg)}};
  if (total.sort == MaterialSort::turf) {
    object["amount_m2"] = valueOf(total.amount_m2);
    object["amount_u_m2"] = uncertaintyOf(total.amount_m2);
  }
  return object;
}

json::object objectOf(const OrderLine& line) {
  json::array packs;
  for (const repair::PackCount& pack : line.packs) {
    packs.push_back(json::object{{"pack_kg", number(pack.pack_kg)}, {"count", pack.count}});
  }
  json::object object{{"material", line.material},
                      {"needed_kg", number(line.needed_kg)},
                      {"in_stock_kg", number(line.inStock_kg)},
                      {"used_kg", number(line.used_kg)},
                      {"packs", std::move(packs)},
                      {"left_over_kg", number(line.leftOver_kg)}};
  if (line.sort == MaterialSort::turf) {
    object["needed_m2"] = number(line.needed_m2);
    object["in_stock_m2"] = number(line.inStock_m2);
    object["left_over_m2"] = number(line.leftOver_m2);
  }
  return object;
}

json::object objectOf(const WorkLine& work, const std::vector<PlannedPatch>& planned) {
  json::array patches;
  for (const std::size_t i : work.patches) {
    patches.push_back(json::object{{"patch", planned[i].patch},
                                   {"label", planned[i].label},
                                   {"choice", repair::word(planned[i].choice)}});
  }
  return {{"green", textOrNull(work.green)},
          {"who", textOrNull(work.who)},
          {"patches", std::move(patches)}};
}

json::object objectOf(const CartLoad& load) {
  json::array parts;
  for (const CartLoad::Part& part : load.parts) {
    parts.push_back(json::object{
        {"patch", part.patch}, {"label", part.label}, {"weight_kg", number(part.weight_kg)}});
  }
  return {{"load", load.number},
          {"green", textOrNull(load.green)},
          {"patches", std::move(parts)},
          {"weight_kg", number(load.weight_kg)}};
}

json::object objectOf(const GreenNitrogen& nitrogen) {
  return {{"green", nitrogen.green},
          {"days", nitrogen.days},
          {"given_g_m2", number(nitrogen.given_g_m2)},
          {"clipped_g_m2", number(nitrogen.clipped_g_m2)},
          {"washed_down_g_m2", number(nitrogen.washed_g_m2)},
          {"left_g_m2", valueOf(nitrogen.left_g_m2)},
          {"left_u_g_m2", uncertaintyOf(nitrogen.left_g_m2)},
          {"drained_mm", number(nitrogen.drained_mm)},
          {"feeding_kg", number(nitrogen.feeding_kg)},
          {"warnings", textsOf(nitrogen.warnings)},
          {"hungry", textsOf(nitrogen.hungry)}};
}

void addNitrogen(const Plan& plan, std::string& out) {
  if (plan.nitrogen.empty()) return;
  constexpr std::size_t page = 100;
  const auto add = [&out](const std::string& text) {
    out += "    ";
    out += wrapped(text, page - 4, 4);
    out += '\n';
  };
  out += "\nNitrogen\n";
  for (const GreenNitrogen& nitrogen : plan.nitrogen) {
    out += fmt::format("  {}\n", nitrogen.green);
    if (!nitrogen.text.empty()) add(nitrogen.text);
    for (const std::string& warning : nitrogen.warnings) add(capital(warning) + ".");
    for (const std::string& words : nitrogen.hungry) add(words);
    if (!nitrogen.feeding.empty()) add(nitrogen.feeding);
  }
}

void addPatches(const Plan& plan, std::string& out) {
  constexpr std::size_t page = 100;
  std::vector<const PlannedPatch*> order;
  for (const PlannedPatch& patch : plan.patches) order.push_back(&patch);
  std::stable_sort(order.begin(), order.end(), [](const PlannedPatch* a, const PlannedPatch* b) {
    if (a->green != b->green) return a->green < b->green;
    if (a->toDo != b->toDo) return a->toDo;
    return naturalLess(a->label, b->label);
  });
  for (const PlanGreen& green : plan.greens) {
    out += fmt::format("\n{}: {}\n", green.green.empty() ? "No green" : green.green, green.text);
    TextTable table;
    table.words("  Patch");
    table.words("Choice");
    table.words("puttable");
    table.figures("seed");
    table.figures("fill");
    table.figures("feed");
    table.figures("turf");
    for (const PlannedPatch* patch : order) {
      if (patch->green != green.green) continue;
      table.row();
      table.cell("  " + patch->heading);
      table.cell(patch->choiceText);
      table.cell(patch->coveredText);
      table.cell(patch->seedText);
      table.cell(patch->fillText);
      table.cell(patch->feedText);
      table.cell(patch->turfText);
      table.section("    " + wrapped(patch->reason, page - 4, 4));
      for (const std::string& task : patch->tasks) {
        table.section("    " + wrapped(task, page - 4, 4));
      }
      for (const std::string& warning : patch->warnings) {
        table.section("    " + wrapped(capital(warning) + ".", page - 4, 4));
      }
      if (patch->chosenByPerson) table.section("    Chosen by " + patch->chosenBy + ".");
    }
    out += table.text();
  }
}

}  // namespace

std::string planJson(const Plan& plan) {
  json::array patches;
  for (const PlannedPatch& patch : plan.patches) patches.push_back(objectOf(patch));
  json::array totals;
  for (const MaterialTotal& total : plan.totals) totals.push_back(objectOf(total));
  json::array order;
  for (const OrderLine& line : plan.order) order.push_back(objectOf(line));
  json::array loads;
  for (const CartLoad& load : plan.loads) loads.push_back(objectOf(load));
  json::array work;
  for (const WorkLine& line : plan.work) work.push_back(objectOf(line, plan.patches));
  json::array nitrogen;
  for (const GreenNitrogen& green : plan.nitrogen) nitrogen.push_back(objectOf(green));
  json::array cautions;
  for (const Caution& caution : plan.cautions) {
    cautions.push_back(
        json::object{{"about", caution.about}, {"text", caution.text}, {"source", caution.source}});
  }
  return writeJson(json::object{{"on", measure::isoDate(plan.on)},
                                {"patches", std::move(patches)},
                                {"totals", std::move(totals)},
                                {"order", std::move(order)},
                                {"work", std::move(work)},
                                {"loads", std::move(loads)},
                                {"nitrogen", std::move(nitrogen)},
                                {"cautions", std::move(cautions)},
                                {"incomplete", plan.incomplete}});
}

std::string planText(const Plan& plan) {
  std::string out = fmt::format("Repairs on {}\n{}\n", longDate(plan.on), plan.headline);
  addPatches(plan, out);
  addNitrogen(plan, out);
  if (!plan.totals.empty()) {
    out += "\nTotals\n";
    TextTable table;
    table.words("  Green");
    table.words("Material");
    table.figures("amount");
    for (const MaterialTotal& total : plan.totals) {
      table.row();
      table.cell("  " + total.green);
      table.cell(total.material);
      table.cell(total.text);
    }
    const bool manyGreens = plan.totals.size() > plan.all.size();
    for (const MaterialTotal& total : plan.all) {
      if (!manyGreens) break;
      table.row();
      table.cell("  All");
      table.cell(total.material);
      table.cell(total.text);
    }
    out += table.text();
  }
  // A list by person says more than the patches above only once somebody was named.
  const bool named = std::any_of(plan.work.begin(), plan.work.end(),
                                 [](const WorkLine& line) { return !line.who.empty(); });
  if (named) {
    out += "\nWho does what\n";
    for (const WorkLine& line : plan.work) {
      out += "  " + wrapped(fmt::format("{}, {}.", line.green, line.text), 98, 4) + "\n";
    }
  }
  if (!plan.loads.empty()) {
    out += "\nCart loads\n";
    TextTable table;
    table.figures("  ");
    table.words("Green");
    table.figures("weight");
    table.words("Patches");
    for (const CartLoad& load : plan.loads) {
      table.row();
      table.cell(fmt::format("  {}", load.number));
      table.cell(load.green);
      table.cell(load.text);
      table.cell(load.labels);
    }
    out += table.text();
  }
  if (!plan.order.empty()) {
    out += "\nOrder (enough in 9 of 10 cases)\n";
    TextTable table;
    table.words("  Material");
    table.figures("needed");
    table.words("stock");
    table.words("order");
    table.words("left over");
    for (const OrderLine& line : plan.order) {
      table.row();
      table.cell("  " + line.material);
      table.cell(line.neededText);
      table.cell(line.stockText);
      table.cell(line.text);
      table.cell(line.leftOverText);
    }
    out += table.text();
  }
  if (!plan.cautions.empty()) {
    out += "\nTake care\n";
    for (const Caution& caution : plan.cautions) {
      out += "  " +
             wrapped(fmt::format("{}: {} Source: {}.", capital(caution.about), caution.text,
                                 caution.source),
                     98, 4) +
             "\n";
    }
  }
  for (const std::string& note : plan.notes) out += "\n" + note;
  if (!plan.notes.empty()) out += "\n";
  return out;
}

std::string planCsv(const Plan& plan) {
  std::string out = csvRecord(
      {"patch",    "label",  "green",         "kind",    "choice",       "chosen_by", "reason",
       "seed_lot", "seed_g", "seed_u_g",      "fill",    "fill_l",       "fill_u_l",  "fill_kg",
       "feed",     "feed_g", "nitrogen_g_m2", "turf_m2", "sowing_state", "warnings"});
  const auto value = [](const std::optional<measure::Measured>& measured) {
    return csvNumber(measured ? std::optional(measured->value) : std::nullopt);
  };
  const auto doubt = [](const std::optional<measure::Measured>& measured) {
    return csvNumber(measured ? measured->u : std::nullopt);
  };
  for (const PlannedPatch& patch : plan.patches) {
    std::string warnings;
    for (const std::string& warning : patch.warnings) {
      warnings += (warnings.empty() ? "" : "; ") + warning;
    }
    out += csvRecord({patch.patch,
                      patch.label,
                      patch.green,
                      std::string(turf::word(patch.kind)),
                      std::string(repair::word(patch.choice)),
                      patch.chosenBy,
                      patch.reason,
                      patch.seedLot,
                      value(patch.seed_g),
                      doubt(patch.seed_g),
                      patch.fill,
                      value(patch.fill_l),
                      doubt(patch.fill_l),
                      value(patch.fill_kg),
                      patch.feed,
                      value(patch.feed_g),
                      csvNumber(patch.nitrogen_g_m2),
                      value(patch.turf_m2),
                      std::string(repair::word(patch.sowing)),
                      warnings});
  }
  return out;
}

}  // namespace swardwalk::answers
