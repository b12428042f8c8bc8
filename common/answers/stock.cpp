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

using Lines = std::map<std::pair<Shelf, std::string>, StockLine>;

/// Puts what was used against what was counted.
class Booking {
 public:
  explicit Booking(const course::CourseState& state) : state_(state) {
    for (const course::StockCount& count : state.stockCounts) {
      const auto counted = countedOf(state, count);
      if (!counted) continue;
      lines_[{count.shelf, count.material}].counted = *counted;
      counts_[{count.shelf, count.material}] = &count;
    }
  }

  void take(const course::Repair& repair) {
    const auto use = [&](Shelf shelf, const std::string& material,
                         const std::optional<double>& amount) {
      take(shelf, material, amount, repair.done, repair.source);
    };
    use(Shelf::seedLot, repair.seedLot, times(repair.seed_g, gram_kg));
    use(Shelf::feed, repair.feed, times(repair.feed_g, gram_kg));
    const turf::Fill* fill = named(state_.fills, repair.fill);
    use(Shelf::fill, repair.fill,
        fill == nullptr ? std::nullopt : times(repair.fill_l, fill->bulkDensity_kg_l));
    if (!repair.turf_m2) return;
    // Who lays turf where there is only one need not say which.
    const bool one = repair.turf.empty() && state_.turfs.size() == 1;
    use(Shelf::turf, one ? state_.turfs.front().name : repair.turf, repair.turf_m2);
  }

  void take(const course::Feeding& feeding) {
    std::optional<double> product_kg = feeding.product_kg;
    const course::Green* green = state_.green(feeding.green);
    if (!product_kg && feeding.rate_g_m2 && green != nullptr) {
      product_kg = gram_kg * *feeding.rate_g_m2 * geo::groundArea_m2(green->shape);
    }
    take(Shelf::feed, feeding.feed, product_kg, feeding.done, feeding.source);
  }

  Lines lines() && { return std::move(lines_); }

 private:
  void take(Shelf shelf, const std::string& material, const std::optional<double>& amount,
            measure::Instant done, const course::Source& source) {
    const auto count = counts_.find({shelf, material});
    if (count == counts_.end()) return;
    const course::StockCount& counted = *count->second;
    const bool since =
        counted.counted ? done > *counted.counted : counted.source.order() < source.order();
    if (!since) return;
    StockLine& line = lines_[{shelf, material}];
    if (amount) {
      line.used += *amount;
    } else {
      ++line.withoutAmount;
    }
  }

  const course::CourseState& state_;
  Lines lines_;
  std::map<std::pair<Shelf, std::string>, const course::StockCount*> counts_;
};

}  // namespace

bool StockLine::overdrawn() const { return used > counted * (1.0 + rounding) + rounding; }

Stock::Stock(const course::CourseState& state) {
  Booking booking(state);
  for (const course::Patch& patch : state.patches) {
    for (const course::Repair& repair : patch.repairs) booking.take(repair);
  }
  for (const course::Repair& repair : state.greenRepairs) booking.take(repair);
  for (const course::Feeding& feeding : state.feedings) booking.take(feeding);
  lines_ = std::move(booking).lines();
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
