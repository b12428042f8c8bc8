#include "common/repair/amounts.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "common/infill/spread.h"

namespace swardwalk::repair {
namespace {

using measure::Measured;

constexpr double squareCentimetresPerSquareMetre = 1e4;

// IUPAC standard atomic masses.
constexpr double phosphorusMass = 30.973761998;
constexpr double oxygenMass = 15.999;
constexpr double potassiumMass = 39.0983;

// The lot's own count before what is known of its grass.
turf::Range countOf(const turf::SeedLot& lot, const turf::Range& species) {
  if (!lot.seedsPerGramLow || !lot.seedsPerGramHigh) return species;
  const double low = *lot.seedsPerGramLow;
  const double high = *lot.seedsPerGramHigh;
  return {0.5 * (low + high), low, high};
}

bool share(double value) { return value > 0.0 && value <= 1.0; }

}  // namespace

double pureLiveSeed(const turf::SeedLot& lot) { return lot.purity * lot.germination; }

Result<double> bulkForPureLive(const turf::SeedLot& lot) {
  if (!share(lot.purity)) {
    return fail(FailureKind::invalid, lot.name, "the purity of this lot is not a share above 0",
                "enter the purity from the label, up to 100 %");
  }
  if (!share(lot.germination)) {
    return fail(FailureKind::invalid, lot.name,
                "the germination of this lot is not a share above 0",
                "enter the germination from the label, up to 100 %");
  }
  return 1.0 / pureLiveSeed(lot);
}

Result<Measured> seedForLiveSeeds_g(const Measured& area_m2, const turf::SeedLot& lot,
                                    const turf::Range& liveSeedsPerSquareCentimetre,
                                    const turf::Range& seedsPerGram, double establishment) {
  const auto bulk = bulkForPureLive(lot);
  if (!bulk) return tl::unexpected(bulk.error());
  if (!share(establishment)) {
    return fail(FailureKind::invalid, lot.name, "the share that establishes is not above 0",
                "set expected establishment between 0 and 100 %");
  }
  const turf::Range count = countOf(lot, seedsPerGram);
  if (!infill::usable(count)) {
    return fail(FailureKind::invalid, lot.name, "how many seeds make a gram is not known",
                "enter the seeds per gram of this lot");
  }
  const double wanted_m2 = liveSeedsPerSquareCentimetre.best * squareCentimetresPerSquareMetre;
  const Measured seeds = (wanted_m2 * *bulk / establishment) * area_m2;
  return seeds / Measured{count.best, infill::rangeU(count)};
}

Measured seedForRate_g(const Measured& area_m2, const turf::Range& rate_g_m2) {
  return rate_g_m2.best * area_m2;
}

Result<Measured> seedForRate_g(const Measured& area_m2, const turf::Range& rate_g_m2,
                               const turf::SeedLot& lot) {
  const auto bulk = bulkForPureLive(lot);
  if (!bulk) return tl::unexpected(bulk.error());
  return (freshPureLiveSeed * *bulk) * seedForRate_g(area_m2, rate_g_m2);
}

Measured fill_l(HoleForm form, const Measured& area_m2, const Measured& depth_mm, double settlesBy,
                double rakedBackShare, double turf_mm) {
  assert(settlesBy >= 0.0 && settlesBy < 1.0);
  assert(rakedBackShare >= 0.0 && rakedBackShare <= 1.0);
  double part = 1.0;
  switch (form) {
    case HoleForm::bowl:
      part = 1.0 / 2.0;
      break;
    case HoleForm::channel:
      part = 2.0 / 3.0;
      break;
    case HoleForm::flat:
      break;
  }
  Measured height_mm = (part * (1.0 - rakedBackShare)) * depth_mm;
  height_mm.value -= turf_mm;
  if (turf_mm > 0.0 && !(height_mm.value > 0.0)) return measure::exact(0.0);
  // A square metre a millimetre deep is a litre.
  return (1.0 / (1.0 - settlesBy)) * (area_m2 * height_mm);
}

std::optional<Measured> meanDepth_mm(std::span<const double> readings_mm, double reading_u_mm) {
  if (readings_mm.empty()) return std::nullopt;
  const auto count = static_cast<double>(readings_mm.size());
  double mean = 0.0;
  for (const double reading : readings_mm) mean += reading / count;
  double scatter = 0.0;
  for (const double reading : readings_mm) scatter += (reading - mean) * (reading - mean);
  const double of_mean = count > 1.0 ? scatter / (count - 1.0) / count : 0.0;
  return Measured{mean, std::sqrt(of_mean + reading_u_mm * reading_u_mm / count)};
}

Measured fill_kg(const Measured& fill_l, const turf::Fill& fill) {
  return fill.bulkDensity_kg_l * fill_l;
}

Measured feed_g(const Measured& area_m2, double rate_g_m2) { return rate_g_m2 * area_m2; }

std::optional<double> nitrogen_g_m2(const turf::Feed& feed, double rate_g_m2) {
  if (!feed.nitrogen_percent) return std::nullopt;
  return rate_g_m2 * *feed.nitrogen_percent / 100.0;
}

std::optional<double> rateForNitrogen_g_m2(const turf::Feed& feed, double nitrogen_g_m2) {
  std::optional<double> rate = feed.labelRate_g_m2;
  if (feed.nitrogen_percent && *feed.nitrogen_percent > 0.0) {
    const double wanted = nitrogen_g_m2 / (*feed.nitrogen_percent / 100.0);
    rate = std::min(wanted, feed.labelRate_g_m2.value_or(wanted));
  }
  if (rate && feed.ceiling_g_m2) rate = std::min(*rate, *feed.ceiling_g_m2);
  return rate;
}

double phosphorusOf(double phosphate) {
  return phosphate * 2.0 * phosphorusMass / (2.0 * phosphorusMass + 5.0 * oxygenMass);
}

double potassiumOf(double potash) {
  return potash * 2.0 * potassiumMass / (2.0 * potassiumMass + oxygenMass);
}

}  // namespace swardwalk::repair
