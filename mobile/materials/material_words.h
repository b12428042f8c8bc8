#pragma once

#include <QString>
#include <optional>

#include "common/measure/write.h"
#include "common/turf/materials.h"

/// Materials in a line of words.
namespace swardwalk::mobile {

/// "creeping bentgrass; 98 % pure, 90 % germinate, tested 1 March 2027; packs of 0.25 kg".
QString wordsOf(const turf::SeedLot& lot, measure::UnitSystem units);
/// "12-6-9; 20 g/m² by its label; packs of 25 kg".
QString wordsOf(const turf::Feed& feed, measure::UnitSystem units);
/// "1.55 kg a litre, settles by 10 %; delivered loose".
QString wordsOf(const turf::Fill& fill, measure::UnitSystem units);
/// "creeping bentgrass, 20 mm thick, pieces of 0.04 m²".
QString wordsOf(const turf::Turf& turf, measure::UnitSystem units);

/// Pack sizes as a person types them, in kilograms: "0.25 1 10".
QString writePacks(const turf::Packs& packs);
/// The sizes again; nothing where a word is no size. A comma is a decimal point.
std::optional<std::vector<double>> readPacks(const QString& typed);

}  // namespace swardwalk::mobile
