#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numeric>
#include <vector>

#include "common/repair/amounts.h"

namespace swardwalk::repair {
namespace {

// Two tons to the gram. Beyond this many steps of the pack sizes' common measure the
// largest pack takes the bulk of the order first, and only the rest is solved exactly.
constexpr long long mostSteps = 2'000'000;

// Nobody sells more; the largest are kept.
constexpr std::size_t mostPackSizes = 32;

std::vector<long long> packGrams(const turf::Packs& packs) {
  std::vector<long long> grams;
  for (const double size_kg : packs.sizes_kg) {
    if (size_kg >= 0.001 && size_kg < 1e6) grams.push_back(std::llround(1000.0 * size_kg));
  }
  std::sort(grams.begin(), grams.end(), std::greater<>());
  grams.erase(std::unique(grams.begin(), grams.end()), grams.end());
  if (grams.size() > mostPackSizes) grams.resize(mostPackSizes);
  return grams;
}

// Fewest packs for every exact amount up to the last step; the pack chosen for each, the
// larger among equals, so that walking back from an amount gives its packs.
std::vector<std::uint8_t> cheapest(const std::vector<long long>& steps, long long missing,
                                   long long& reached) {
  constexpr int none = std::numeric_limits<int>::max();
  const auto last = static_cast<std::size_t>(missing + steps.front());
  std::vector<int> fewest(last + 1, none);
  std::vector<std::uint8_t> pack(last + 1, 0);
  fewest[0] = 0;
  for (std::size_t amount = 1; amount <= last; ++amount) {
    for (std::size_t i = 0; i < steps.size(); ++i) {
      const auto step = static_cast<std::size_t>(steps[i]);
      if (step > amount || fewest[amount - step] == none) continue;
      if (fewest[amount - step] + 1 < fewest[amount]) {
        fewest[amount] = fewest[amount - step] + 1;
        pack[amount] = static_cast<std::uint8_t>(i);
      }
    }
  }
  reached = missing;
  while (fewest[static_cast<std::size_t>(reached)] == none) ++reached;
  return pack;
}

std::vector<int> countsFor(const std::vector<long long>& grams, long long missing_g) {
  std::vector<int> counts(grams.size(), 0);
  long long measure = 0;
  for (const long long size : grams) measure = std::gcd(measure, size);
  std::vector<long long> steps;
  for (const long long size : grams) steps.push_back(size / measure);
  long long missing = (missing_g + measure - 1) / measure;
  if (missing > mostSteps) {
    const long long many = (missing - mostSteps) / steps.front();
    counts[0] += static_cast<int>(many);
    missing -= many * steps.front();
  }
  long long amount = 0;
  const std::vector<std::uint8_t> pack = cheapest(steps, missing, amount);
  while (amount > 0) {
    const std::size_t chosen = pack[static_cast<std::size_t>(amount)];
    ++counts[chosen];
    amount -= steps[chosen];
  }
  return counts;
}

}  // namespace

Order leastWaste(double needed_kg, double inStock_kg, const turf::Packs& packs) {
  Order order;
  const double stock_kg = inStock_kg > 0.0 ? inStock_kg : 0.0;
  const double missing_kg = needed_kg - stock_kg;
  order.leftOver_kg = stock_kg - needed_kg;
  if (!(missing_kg > 0.0) || !std::isfinite(missing_kg)) return order;
  const std::vector<long long> grams = packGrams(packs);
  if (packs.bulk || grams.empty()) {
    order.ordered_kg = missing_kg;
    order.leftOver_kg = 0.0;
    return order;
  }
  // A millionth of a gram is rounding of the sum, not another gram to order.
  const auto missing_g = static_cast<long long>(std::ceil(1000.0 * missing_kg - 1e-6));
  const std::vector<int> counts = countsFor(grams, std::max(1LL, missing_g));
  for (std::size_t i = 0; i < grams.size(); ++i) {
    if (counts[i] == 0) continue;
    const double pack_kg = static_cast<double>(grams[i]) / 1000.0;
    order.packs.push_back({pack_kg, counts[i]});
    order.ordered_kg += counts[i] * pack_kg;
  }
  order.leftOver_kg = stock_kg + order.ordered_kg - needed_kg;
  return order;
}

}  // namespace swardwalk::repair
