#include <boost/json.hpp>

#include "common/course/properties.h"
#include "common/course/write_features.h"

namespace swardwalk::course {

namespace json = boost::json;

namespace {

/// As a course file writes a lot's grasses: one by its name, several with their shares.
json::value speciesOf(const turf::SeedLot& lot) {
  if (lot.parts.size() == 1) return json::string(lot.parts.front().species);
  const char* share = lot.sharesByNumber ? "share_by_number" : "share_by_weight";
  json::array parts;
  for (const turf::BlendPart& part : lot.parts)
    parts.push_back(json::object{{"species", part.species}, {share, part.share}});
  return parts;
}

Properties& addPacks(Properties& properties, const turf::Packs& packs) {
  if (!packs.sizes_kg.empty()) properties.value("packs_kg", json::value_from(packs.sizes_kg));
  return properties.flag("bulk", packs.bulk);
}

Properties& addCounted(Properties& properties, const std::optional<measure::Instant>& counted) {
  return counted ? properties.moment("counted", *counted) : properties;
}

}  // namespace

json::object bodyOf(const turf::SeedLot& lot, std::optional<measure::Instant> counted) {
  Properties properties;
  properties.text("name", lot.name)
      .value("species", speciesOf(lot))
      .number("purity", lot.purity)
      .number("germination", lot.germination);
  if (lot.tested) properties.text("tested", measure::isoDate(*lot.tested));
  if (lot.seedsPerGramLow && lot.seedsPerGramHigh)
    properties.value("seeds_per_g", json::array{*lot.seedsPerGramLow, *lot.seedsPerGramHigh});
  addPacks(properties, lot.packs).number("stock_kg", lot.stock_kg);
  return addCounted(properties, counted).body({});
}

json::object bodyOf(const turf::Feed& feed, std::optional<measure::Instant> counted) {
  Properties properties;
  properties.text("name", feed.name);
  if (feed.nitrogen_percent && feed.phosphate_percent && feed.potash_percent) {
    properties.value("analysis", json::array{*feed.nitrogen_percent, *feed.phosphate_percent,
                                             *feed.potash_percent});
  }
  properties.number("label_rate_g_m2", feed.labelRate_g_m2)
      .number("ceiling_g_m2", feed.ceiling_g_m2)
      .number("soluble_n_share", feed.solubleNitrogenShare);
  addPacks(properties, feed.packs).number("stock_kg", feed.stock_kg);
  return addCounted(properties, counted).body({});
}

json::object bodyOf(const turf::Fill& fill, std::optional<measure::Instant> counted) {
  Properties properties;
  properties.text("name", fill.name)
      .number("bulk_density_kg_l", fill.bulkDensity_kg_l)
      .number("settles_by", fill.settlesBy);
  addPacks(properties, fill.packs).number("stock_kg", fill.stock_kg);
  return addCounted(properties, counted).body({});
}

json::object bodyOf(const turf::Turf& turf, std::optional<measure::Instant> counted) {
  Properties properties;
  properties.text("name", turf.name)
      .text("species", turf.species)
      .number("thickness_mm", turf.thickness_mm)
      .number("piece_m2", turf.piece_m2)
      .number("stock_m2", turf.stock_m2);
  return addCounted(properties, counted).body({});
}

}  // namespace swardwalk::course
