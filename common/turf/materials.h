#pragma once

#include <optional>
#include <string>
#include <vector>

#include "common/measure/instant.h"

/// Materials as a course records them; amounts in the unit that the name states.
namespace swardwalk::turf {

struct Packs {
  std::vector<double> sizes_kg;
  bool bulk = false;  ///< delivered loose, any amount
};

struct BlendPart {
  std::string species;
  double share = 1.0;  ///< 0..1, by weight or by number as its lot says
};

struct SeedLot {
  std::string name;
  std::vector<BlendPart> parts;
  bool sharesByNumber = false;  ///< shares of the seeds, not of their weight
  double purity = 0.0;          ///< 0..1
  double germination = 0.0;     ///< 0..1
  std::optional<measure::Date> tested;
  std::optional<double> seedsPerGramLow;
  std::optional<double> seedsPerGramHigh;
  Packs packs;
  std::optional<double> stock_kg;
};

struct Feed {
  std::string name;
  std::optional<double> nitrogen_percent;   ///< N
  std::optional<double> phosphate_percent;  ///< P2O5
  std::optional<double> potash_percent;     ///< K2O
  std::optional<double> labelRate_g_m2;
  std::optional<double> ceiling_g_m2;
  std::optional<double> solubleNitrogenShare;  ///< 0..1
  Packs packs;
  std::optional<double> stock_kg;
};

struct Fill {
  std::string name;
  double bulkDensity_kg_l = 0.0;    ///< loose
  std::optional<double> settlesBy;  ///< 0..1 of the loose depth
  Packs packs;
  std::optional<double> stock_kg;
};

struct Turf {
  std::string name;
  std::string species;
  std::optional<double> thickness_mm;
  std::optional<double> piece_m2;
  std::optional<double> stock_m2;
};

}  // namespace swardwalk::turf
