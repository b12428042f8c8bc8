#include "common/answers/order.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <tuple>

#include "common/answers/plan_text.h"
#include "common/answers/sentences.h"
#include "common/measure/units.h"

namespace swardwalk::answers {
namespace {

using measure::Measured;

/// Nine of ten cases lie below value + 1.2816 u (normal distribution, one-sided).
constexpr double nineOfTen = 1.2815515655446004;

struct Key {
  std::string green;
  std::string material;
  MaterialSort sort;

  friend auto operator<=>(const Key&, const Key&) = default;
};

using Lines = std::map<Key, std::vector<Measured>>;

Lines linesOf(const std::vector<PlannedPatch>& patches, bool byGreen) {
  constexpr double kilogram_g = 1000.0;
  Lines lines;
  for (const PlannedPatch& patch : patches) {
    const std::string green = byGreen ? patch.green : std::string();
    const auto add = [&](const std::string& material, MaterialSort sort,
                         const std::optional<Measured>& amount, double perKg) {
      if (material.empty() || !amount) return;
      lines[{green, material, sort}].push_back((1.0 / perKg) * *amount);
    };
    add(patch.seedLot, MaterialSort::seed, patch.seed_g, kilogram_g);
    add(patch.fill, MaterialSort::fill, patch.fill_kg, 1.0);
    add(patch.feed, MaterialSort::feed, patch.feed_g, kilogram_g);
    add(patch.turf, MaterialSort::turf, patch.turf_m2, 1.0);
  }
  return lines;
}

std::vector<MaterialTotal> totals(const Lines& lines, measure::UnitSystem units) {
  std::vector<MaterialTotal> out;
  for (const auto& [key, terms] : lines) {
    MaterialTotal total;
    total.green = key.green;
    total.material = key.material;
    total.sort = key.sort;
    const Measured amount = measure::sum(terms);
    if (key.sort == MaterialSort::turf) {
      total.amount_m2 = amount;
      total.text = measure::write(amount, measure::Quantity::area, units);
    } else {
      total.amount_kg = amount;
      total.text = writeAmount(amount, key.sort, units);
    }
    out.push_back(std::move(total));
  }
  return out;
}

template <class Material>
const Material* named(const std::vector<Material>& materials, std::string_view name) {
  const auto found = std::find_if(materials.begin(), materials.end(),
                                  [&](const Material& one) { return one.name == name; });
  return found == materials.end() ? nullptr : &*found;
}

/// "250 g", "25 kg": a pack as it is sold.
std::string packText(double pack_kg, measure::UnitSystem units) {
  if (units == measure::UnitSystem::imperial) {
    return fmt::format("{:.4g} lb", pack_kg / measure::kilogramsPerPound);
  }
  return pack_kg < 1.0 ? fmt::format("{:.4g} g", 1000.0 * pack_kg)
                       : fmt::format("{:.6g} kg", pack_kg);
}

std::string plain(double amount_kg, MaterialSort sort, measure::UnitSystem units) {
  return writeAmount({amount_kg, std::nullopt}, sort, units).text();
}

/// What somebody entered, with its own digits.
std::string asRecorded(double amount_kg, MaterialSort sort, measure::UnitSystem units) {
  measure::Written written = writeAmount(measure::exact(amount_kg), sort, units);
  written.doubt.clear();
  return written.text();
}

void writeKilograms(OrderLine& line, measure::UnitSystem units) {
  line.neededText = writeAmount({*line.needed_kg, line.needed_u_kg}, line.sort, units);
  line.stockText = !line.inStock_kg ? std::string("stock unknown")
                   : *line.inStock_kg <= 0.0
                       ? std::string("none in stock")
                       : "in stock " + asRecorded(*line.inStock_kg, line.sort, units);
  if (line.used_kg.value_or(0.0) > 0.0) {
    line.stockText += fmt::format(", {} used", asRecorded(*line.used_kg, line.sort, units));
  }
  if (!line.toOrder) {
    line.text = "nothing to order";
  } else if (line.packs.empty()) {
    line.text = fmt::format("{}{}", plain(*line.ordered_kg, line.sort, units),
                            line.bulk ? " loose" : ", pack size unknown");
  } else {
    std::vector<std::string> packs;
    for (const repair::PackCount& pack : line.packs) {
      packs.push_back(fmt::format("{} {} of {}", pack.count, pack.count == 1 ? "pack" : "packs",
                                  packText(pack.pack_kg, units)));
    }
    line.text = listed(packs);
  }
  if (line.leftOver_kg) {
    line.leftOverText = plain(*line.leftOver_kg, line.sort, units) + " left over";
  }
}

OrderLine kilograms(const MaterialTotal& sum, const turf::Packs& packs, const StockLine* stock,
                    measure::UnitSystem units) {
  const auto stock_kg = stock == nullptr ? std::nullopt : std::optional(stock->left());
  OrderLine line;
  line.material = sum.material;
  line.sort = sum.sort;
  line.needed_kg = sum.amount_kg->value;
  line.needed_u_kg = sum.amount_kg->u;
  line.enough_kg = sum.amount_kg->value + nineOfTen * sum.amount_kg->u.value_or(0.0);
  line.inStock_kg = stock_kg;
  if (stock != nullptr) line.used_kg = stock->used;
  line.bulk = packs.bulk;
  const repair::Order order = repair::leastWaste(*line.enough_kg, stock_kg.value_or(0.0), packs);
  line.packs = order.packs;
  line.ordered_kg = order.ordered_kg;
  line.toOrder = order.ordered_kg > 0.0;
  if (stock_kg) line.leftOver_kg = *stock_kg + order.ordered_kg - *line.needed_kg;
  writeKilograms(line, units);
  return line;
}

OrderLine squareMetres(const MaterialTotal& sum, const turf::Turf* turf, const StockLine* stock,
                       measure::UnitSystem units) {
  OrderLine line;
  line.material = sum.material;
  line.sort = sum.sort;
  line.needed_m2 = sum.amount_m2->value;
  line.needed_u_m2 = sum.amount_m2->u;
  const auto area = [&](double value_m2) {
    return measure::write({value_m2, std::nullopt}, measure::Quantity::area, units).text();
  };
  line.neededText = sum.text;
  if (stock != nullptr) line.inStock_m2 = stock->left();
  const double stock_m2 = line.inStock_m2.value_or(0.0);
  const double enough_m2 = *line.needed_m2 + nineOfTen * line.needed_u_m2.value_or(0.0);
  double ordered_m2 = std::max(0.0, enough_m2 - stock_m2);
  line.toOrder = ordered_m2 > 0.0;
  if (!line.toOrder) {
    line.text = "nothing to order";
  } else if (turf != nullptr && turf->piece_m2.value_or(0.0) > 0.0) {
    const double pieces = std::ceil(ordered_m2 / *turf->piece_m2 - 1e-9);
    ordered_m2 = pieces * *turf->piece_m2;
    line.text = fmt::format("{:.0f} {} of {}", pieces, pieces == 1.0 ? "piece" : "pieces",
                            area(*turf->piece_m2));
  } else {
    line.text = area(ordered_m2);
  }
  line.stockText = line.inStock_m2 ? "in stock " + area(stock_m2) : std::string("stock unknown");
  if (line.inStock_m2) {
    line.leftOver_m2 = stock_m2 + ordered_m2 - *line.needed_m2;
    line.leftOverText = area(*line.leftOver_m2) + " left over";
  }
  return line;
}

}  // namespace

std::vector<MaterialTotal> totalsOf(const std::vector<PlannedPatch>& patches,
                                    measure::UnitSystem units) {
  return totals(linesOf(patches, true), units);
}

std::vector<MaterialTotal> sumsOf(const std::vector<PlannedPatch>& patches,
                                  measure::UnitSystem units) {
  return totals(linesOf(patches, false), units);
}

std::vector<OrderLine> orderOf(const std::vector<MaterialTotal>& sums,
                               const course::CourseState& state, const Stock& stock,
                               measure::UnitSystem units) {
  std::vector<OrderLine> lines;
  for (const MaterialTotal& sum : sums) {
    switch (sum.sort) {
      case MaterialSort::seed:
        if (const auto* lot = named(state.seedLots, sum.material)) {
          lines.push_back(
              kilograms(sum, lot->packs, stock.of(course::Shelf::seedLot, lot->name), units));
        }
        break;
      case MaterialSort::fill:
        if (const auto* fill = named(state.fills, sum.material)) {
          lines.push_back(
              kilograms(sum, fill->packs, stock.of(course::Shelf::fill, fill->name), units));
        }
        break;
      case MaterialSort::feed:
        if (const auto* feed = named(state.feeds, sum.material)) {
          lines.push_back(
              kilograms(sum, feed->packs, stock.of(course::Shelf::feed, feed->name), units));
        }
        break;
      case MaterialSort::turf:
        lines.push_back(squareMetres(sum, named(state.turfs, sum.material),
                                     stock.of(course::Shelf::turf, sum.material), units));
        break;
    }
  }
  return lines;
}

}  // namespace swardwalk::answers
