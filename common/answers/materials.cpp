#include "common/answers/materials.h"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cctype>
#include <cmath>
#include <numbers>
#include <tuple>

#include "common/answers/grass_settings.h"
#include "common/answers/growth.h"
#include "common/repair/amounts.h"
#include "common/repair/blend.h"

namespace swardwalk::answers {
namespace {

using repair::Choice;

bool sameText(std::string_view a, std::string_view b) {
  return a.size() == b.size() && std::equal(a.begin(), a.end(), b.begin(), [](char x, char y) {
           return std::tolower(static_cast<unsigned char>(x)) ==
                  std::tolower(static_cast<unsigned char>(y));
         });
}

bool belongs(const turf::SeedLot& lot, const std::vector<std::string>& zoneSpecies) {
  return !lot.parts.empty() &&
         std::all_of(lot.parts.begin(), lot.parts.end(), [&](const turf::BlendPart& part) {
           return mayGrow(part.species, zoneSpecies);
         });
}

bool isEmpty(const std::optional<double>& left) { return left && *left <= 0.0; }

auto rank(const turf::SeedLot& lot, const Stock& stock) {
  const double live = repair::pureLiveSeed(lot);
  const bool empty = isEmpty(stock.left(course::Shelf::seedLot, lot.name));
  return std::tuple(!(live > 0.0), empty, -live, std::string_view(lot.name));
}

const turf::SeedLot* pickSeed(const course::CourseState& state, const Stock& stock,
                              const std::vector<std::string>& zoneSpecies) {
  const turf::SeedLot* best = nullptr;
  for (const turf::SeedLot& lot : state.seedLots) {
    if (!belongs(lot, zoneSpecies)) continue;
    if (best == nullptr || rank(lot, stock) < rank(*best, stock)) best = &lot;
  }
  return best;
}

std::optional<double> wantedRate_g_m2(const turf::Feed& feed, const Settings& settings) {
  return repair::rateForNitrogen_g_m2(feed, settings["soluble_n_g_m2"]);
}

auto rank(const turf::Feed& feed, const Stock& stock, const Settings& settings) {
  const auto rate = wantedRate_g_m2(feed, settings);
  const auto nitrogen = rate ? repair::nitrogen_g_m2(feed, *rate) : std::nullopt;
  const bool none = !nitrogen || !(*nitrogen > 0.0);
  const bool empty = isEmpty(stock.left(course::Shelf::feed, feed.name));
  const double off = none ? 0.0 : std::abs(*nitrogen - settings["soluble_n_g_m2"]);
  return std::tuple(none, !rate, empty, off, std::string_view(feed.name));
}

std::optional<repair::BlendCounts> countsOf(const turf::SeedLot& lot, const Settings& settings) {
  std::vector<repair::BlendedGrass> parts;
  for (const turf::BlendPart& part : lot.parts) {
    parts.push_back({part.share, settings.grass(part.species)});
  }
  return repair::countsOf(parts, lot.sharesByNumber);
}

/// A rate that the course set for this grass, if it did.
std::optional<turf::Range> ownRate_g_m2(const turf::SeedLot& lot, const Settings& settings) {
  if (lot.parts.size() != 1) return std::nullopt;
  const turf::Species* species = settings.grass(lot.parts.front().species);
  if (species == nullptr || !settings.changed(rateSettingOf(*species))) return std::nullopt;
  return species->patchRate_g_m2;
}

/// Adds a strip along the edge of a disc of this area.
measure::Measured withMargin(const measure::Measured& area_m2, double margin_m) {
  if (margin_m <= 0.0) return area_m2;
  const double perimeter_m = 2.0 * std::sqrt(std::numbers::pi * area_m2.value);
  return {area_m2.value + perimeter_m * margin_m + std::numbers::pi * margin_m * margin_m,
          area_m2.u};
}

repair::HoleForm formOf(turf::Kind kind) {
  switch (kind) {
    case turf::Kind::washed:
      return repair::HoleForm::channel;
    case turf::Kind::dug:
      return repair::HoleForm::bowl;
    case turf::Kind::bare:
    case turf::Kind::hungry:
      break;
  }
  return repair::HoleForm::flat;
}

class Basket {
 public:
  Basket(const PatchProgress& patch, const AtHand& atHand, const course::CourseState& state,
         measure::Date on, const Settings& settings)
      : patch_(patch), atHand_(atHand), state_(state), on_(on), settings_(settings) {}

  void seed() {
    material_.seedLot = atHand_.seedLot;
    if (atHand_.seedLot == nullptr) {
      warn(fmt::format("no seed: {}", atHand_.noSeedReason));
      return;
    }
    const turf::SeedLot& lot = *atHand_.seedLot;
    const auto area = area_m2("seed");
    if (area) material_.seed_g = seedOf(*area, lot);
    if (!lot.tested) {
      warn(fmt::format("{}: no day of its germination test", lot.name));
    } else if (const auto age = (on_ - *lot.tested).count();
               age > static_cast<long>(settings_["seed_test_valid_d"])) {
      warn(fmt::format("{}: germination tested {} days ago", lot.name, age));
    }
  }

  void fill(double turf_mm = 0.0) {
    if (state_.fills.empty()) {
      warn("fill mass unknown: no fill is recorded");
    } else {
      material_.fill = atHand_.fill;
    }
    const auto area = area_m2("fill");
    const std::vector<double>& depths = patch_.story->depths_mm;
    if (depths.empty()) {
      warn(patch_.story->filledDay ? "fill unknown: no depth since it was last filled"
                                   : "fill unknown: no depth was measured");
      return;
    }
    if (!area) return;
    const repair::HoleForm form = formOf(patch_.kind);
    const PatchStory& story = *patch_.story;
    const bool raked = story.rakedBackDay && *story.rakedBackDay >= *story.depthDay;
    const double settles = material_.fill != nullptr && material_.fill->settlesBy
                               ? *material_.fill->settlesBy
                               : settings_["settles_firmed"];
    material_.fill_l =
        repair::fill_l(form, *area, depthOf_mm(patch_.kind, depths, settings_["depth_u_mm"]),
                       settles, raked ? settings_["raked_back_share"] : 0.0, turf_mm);
    if (turf_mm > 0.0 && !(material_.fill_l->value > 0.0)) {
      material_.fill = nullptr;
      material_.fill_l.reset();
      return;
    }
    if (material_.fill != nullptr) {
      material_.fill_kg = repair::fill_kg(*material_.fill_l, *material_.fill);
    }
  }

  void feed() {
    material_.feed = atHand_.feed;
    if (atHand_.feed == nullptr) {
      warn("no feed: none is recorded");
      return;
    }
    const turf::Feed& feed = *atHand_.feed;
    const auto rate = wantedRate_g_m2(feed, settings_);
    if (!feed.nitrogen_percent) warn("nitrogen unknown: no analysis");
    if (!rate) {
      warn(fmt::format("{}: amount unknown, neither analysis nor label rate", feed.name));
      return;
    }
    material_.nitrogen_g_m2 = repair::nitrogen_g_m2(feed, *rate);
    constexpr double perCent = 100.0;
    if (feed.phosphate_percent) {
      material_.phosphorus_g_m2 = repair::phosphorusOf(*rate * *feed.phosphate_percent / perCent);
    }
    if (feed.potash_percent) {
      material_.potassium_g_m2 = repair::potassiumOf(*rate * *feed.potash_percent / perCent);
    }
    if (const auto area = area_m2("feed")) material_.feed_g = repair::feed_g(*area, *rate);
  }

  void turf() {
    material_.turf = atHand_.turf;
    if (atHand_.turf == nullptr) warn("no turf: none of a grass that belongs here is recorded");
    if (patch_.area_m2) {
      const double overlap = 1.0 + settings_["turf_overlap_share"];
      material_.turf_m2 = overlap * withMargin(surface_m2(), settings_["turf_margin_m"]);
      if (atHand_.turf != nullptr && atHand_.turf->piece_m2.value_or(0.0) > 0.0) {
        material_.turfPieces =
            static_cast<int>(std::ceil(material_.turf_m2->value / *atHand_.turf->piece_m2));
      }
    } else {
      area_m2("turf");
    }
    if (patch_.story->depths_mm.empty()) return;
    const auto thick_mm = atHand_.turf == nullptr ? std::nullopt : atHand_.turf->thickness_mm;
    if (atHand_.turf != nullptr && !thick_mm) {
      warn("fill is for the whole hole: the turf's thickness is not recorded");
    }
    fill(thick_mm.value_or(0.0));
  }

  Material take() { return std::move(material_); }

 private:
  void warn(std::string text) { material_.warnings.push_back(std::move(text)); }

  std::optional<measure::Measured> area_m2(std::string_view what) {
    if (patch_.area_m2) return withMargin(surface_m2(), settings_["edge_margin_m"]);
    warn(fmt::format("{} unknown: no size was measured", what));
    return std::nullopt;
  }

  measure::Measured surface_m2() const { return patch_.story->surfaceStretch * *patch_.area_m2; }

  std::optional<measure::Measured> seedOf(const measure::Measured& area, const turf::SeedLot& lot) {
    const double live = repair::pureLiveSeed(lot);
    if (!(live > 0.0)) {
      warn(fmt::format("seed unknown: {} has a {} of 0", lot.name,
                       lot.purity > 0.0 ? "germination" : "purity"));
      return std::nullopt;
    }
    const auto seed = seedFor_g(area, lot, settings_);
    if (!seed) return unknownSeed(seed.error());
    return *seed;
  }

  std::optional<measure::Measured> unknownSeed(const Failure& failure) {
    warn(fmt::format("seed unknown: {}", failure.text()));
    return std::nullopt;
  }

  const PatchProgress& patch_;
  const AtHand& atHand_;
  const course::CourseState& state_;
  measure::Date on_;
  const Settings& settings_;
  Material material_;
};

}  // namespace

bool mayGrow(std::string_view species, const std::vector<std::string>& zoneSpecies) {
  const turf::Species* wanted = turf::findSpecies(species);
  return std::any_of(zoneSpecies.begin(), zoneSpecies.end(), [&](const std::string& name) {
    if (sameText(name, species)) return true;
    return wanted != nullptr && turf::findSpecies(name) == wanted;
  });
}

Result<measure::Measured> seedFor_g(const measure::Measured& area_m2, const turf::SeedLot& lot,
                                    const Settings& settings) {
  if (const auto rate = ownRate_g_m2(lot, settings)) {
    return repair::seedForRate_g(area_m2, *rate, lot);
  }
  const auto counts = countsOf(lot, settings);
  if (!counts) {
    return fail(FailureKind::invalid, {},
                fmt::format("nothing is known of the grass of {}", lot.name), {});
  }
  return repair::seedForLiveSeeds_g(area_m2, lot, counts->livePerSquareCentimetre,
                                    counts->seedsPerGram, settings["seed_establishment"]);
}

AtHand atHand(const course::CourseState& state, const Stock& stock,
              const std::vector<std::string>& zoneSpecies, const std::string& place,
              const Settings& settings) {
  AtHand out;
  out.seedLot = pickSeed(state, stock, zoneSpecies);
  if (zoneSpecies.empty()) {
    out.noSeedReason = fmt::format("no grass is named for {}", place);
  } else if (out.seedLot == nullptr) {
    out.noSeedReason = fmt::format("no lot of a grass that belongs on {}", place);
  }
  for (const turf::Turf& turf : state.turfs) {
    if (mayGrow(turf.species, zoneSpecies)) {
      out.turf = &turf;
      break;
    }
  }
  if (!state.fills.empty()) out.fill = &state.fills.front();
  out.feed = feedAtHand(state, stock, settings);
  return out;
}

const turf::Feed* feedAtHand(const course::CourseState& state, const Stock& stock,
                             const Settings& settings) {
  const turf::Feed* best = nullptr;
  for (const turf::Feed& feed : state.feeds) {
    if (best == nullptr || rank(feed, stock, settings) < rank(*best, stock, settings)) best = &feed;
  }
  return best;
}

Material materialFor(Choice choice, const PatchProgress& patch, const AtHand& atHand,
                     const course::CourseState& state, measure::Date on, const Settings& settings) {
  Basket basket(patch, atHand, state, on, settings);
  switch (choice) {
    case Choice::overseed:
      basket.seed();
      basket.feed();
      break;
    case Choice::fillAndSow:
      basket.seed();
      basket.fill();
      basket.feed();
      break;
    case Choice::turf:
      basket.turf();
      break;
    case Choice::feed:
      basket.feed();
      break;
    case Choice::leave:
    case Choice::mendTheCauseFirst:
    case Choice::lookAgain:
      break;
  }
  return basket.take();
}

double deepest_mm(const PatchStory& story) {
  return story.depths_mm.empty()
             ? 0.0
             : *std::max_element(story.depths_mm.begin(), story.depths_mm.end());
}

measure::Measured depthOf_mm(turf::Kind kind, const std::vector<double>& depths_mm,
                             double reading_u_mm) {
  assert(!depths_mm.empty());
  if (formOf(kind) == repair::HoleForm::bowl)
    return {*std::max_element(depths_mm.begin(), depths_mm.end()), reading_u_mm};
  return *repair::meanDepth_mm(depths_mm, reading_u_mm);
}

}  // namespace swardwalk::answers
