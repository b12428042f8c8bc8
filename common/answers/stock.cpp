#include "common/answers/stock.h"

#include <fmt/format.h>

#include <algorithm>

#include "common/geo/outline.h"

namespace swardwalk::answers {
namespace {

using course::Shelf;

constexpr double gram_kg = 1e-3;
constexpr double rounding = 1e-9;

template <class Material>
const Material* named(const std::vector<Material>& materials, std::string_view name) {
  const auto found = std::find_if(materials.begin(), materials.end(),
                                  [&](const Material& one) { return one.name == name; });
  return found == materials.end() ? nullptr : &*found;
}

std::optional<double> countedOf(const course::CourseState& state, const course::StockCount& count) {
  switch (count.shelf) {
    case Shelf::seedLot:
      if (const auto* lot = named(state.seedLots, count.material)) return lot->stock_kg;
      break;
    case Shelf::feed:
      if (const auto* feed = named(state.feeds, count.material)) return feed->stock_kg;
      break;
    case Shelf::fill:
      if (const auto* fill = named(state.fills, count.material)) return fill->stock_kg;
      break;
    case Shelf::turf:
      if (const auto* turf = named(state.turfs, count.material)) return turf->stock_m2;
      break;
  }
  return std::nullopt;
}

std::optional<double> times(const std::optional<double>& amount, double factor) {
  return amount ? std::optional(*amount * factor) : std::nullopt;
}

}  // namespace

bool StockLine::overdrawn() const { return used > counted * (1.0 + rounding) + rounding; }

Stock::Stock(const course::CourseState& state) {
  for (const course::StockCount& count : state.stockCounts) {
    if (const auto counted = countedOf(state, count)) {
      const Key key{count.shelf, count.material};
      lines_[key].counted = *counted;
      counts_[key] = &count;
    }
  }
  for (const course::Patch& patch : state.patches) {
    for (const course::Repair& repair : patch.repairs) use(state, repair);
  }
  for (const course::Repair& repair : state.greenRepairs) use(state, repair);
  for (const course::Feeding& feeding : state.feedings) {
    std::optional<double> product_kg = feeding.product_kg;
    const course::Green* green = state.green(feeding.green);
    if (!product_kg && feeding.rate_g_m2 && green != nullptr) {
      product_kg = gram_kg * *feeding.rate_g_m2 * geo::groundArea_m2(green->shape);
    }
    use(Shelf::feed, feeding.feed, product_kg, feeding.done, feeding.source);
  }
  counts_.clear();
}

void Stock::use(const course::CourseState& state, const course::Repair& repair) {
  const auto take = [&](Shelf shelf, std::string_view material,
                        const std::optional<double>& amount) {
    if (!material.empty()) use(shelf, material, amount, repair.done, repair.source);
  };
  take(Shelf::seedLot, repair.seedLot, times(repair.seed_g, gram_kg));
  take(Shelf::feed, repair.feed, times(repair.feed_g, gram_kg));
  const turf::Fill* fill = named(state.fills, repair.fill);
  take(Shelf::fill, repair.fill,
       fill == nullptr ? std::nullopt : times(repair.fill_l, fill->bulkDensity_kg_l));
  if (!repair.turf_m2) return;
  // Who lays turf where there is only one need not say which.
  const bool one = repair.turf.empty() && state.turfs.size() == 1;
  take(Shelf::turf, one ? state.turfs.front().name : repair.turf, repair.turf_m2);
}

void Stock::use(Shelf shelf, std::string_view material, const std::optional<double>& amount,
                measure::Instant done, const course::Source& source) {
  const Key key{shelf, std::string(material)};
  const auto count = counts_.find(key);
  if (count == counts_.end()) return;
  const course::StockCount& counted = *count->second;
  const bool since =
      counted.counted ? done > *counted.counted : counted.source.order() < source.order();
  if (!since) return;
  StockLine& line = lines_[key];
  if (amount) {
    line.used += *amount;
  } else {
    ++line.withoutAmount;
  }
}

const StockLine* Stock::of(Shelf shelf, std::string_view material) const {
  const auto found = lines_.find(Key{shelf, std::string(material)});
  return found == lines_.end() ? nullptr : &found->second;
}

std::optional<double> Stock::left(Shelf shelf, std::string_view material) const {
  const StockLine* line = of(shelf, material);
  return line == nullptr ? std::nullopt : std::optional(line->left());
}

std::vector<std::string> Stock::notes() const {
  std::vector<std::string> out;
  for (const auto& [key, line] : lines_) {
    if (line.overdrawn()) {
      out.push_back(fmt::format(
          "{}: the records say that more was used than was in stock; count what is left.",
          key.second));
    }
    if (line.withoutAmount > 0) {
      out.push_back(fmt::format(
          "{}: used {} without saying how much; there may be less than the stock says.", key.second,
          line.withoutAmount == 1 ? std::string("once")
                                  : fmt::format("{} times", line.withoutAmount)));
    }
  }
  return out;
}

}  // namespace swardwalk::answers
