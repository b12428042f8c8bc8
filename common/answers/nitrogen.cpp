#include "common/answers/nitrogen.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "common/answers/calendar.h"
#include "common/answers/materials.h"
#include "common/answers/rainfall.h"
#include "common/answers/sentences.h"
#include "common/answers/settings.h"
#include "common/geo/local_plane.h"
#include "common/repair/amounts.h"
#include "common/repair/nitrogen_balance.h"
#include "common/turf/water.h"

namespace swardwalk::answers {
namespace {

using measure::Quantity;

constexpr int month_d = 30;
/// Feedings older than this are gone or part of the soil.
constexpr int followed_d = 120;
constexpr double perCent = 100.0;
/// Clippings that fell to less than this share of the cuts before are a sign.
constexpr double fewerClippings = 0.7;
constexpr std::size_t cutsCompared = 3;

/// A feeding of a whole green, by whichever record it came.
struct Fed {
  double day = 0.0;
  std::string feed;
  std::optional<double> rate_g_m2;
};

class GreenBooks {
 public:
  GreenBooks(const course::CourseState& state, const GreenProgress& green, const Calendar& calendar,
             const Settings& settings, const std::vector<double>& dailyWater_mm,
             measure::UnitSystem units)
      : state_(state),
        green_(green),
        calendar_(calendar),
        settings_(settings),
        dailyWater_mm_(dailyWater_mm),
        units_(units) {
    from_ = calendar.beginOf(calendar.on() - std::chrono::days(month_d - 1));
    findFeedings();
  }

  bool wasFed() const { return !fed_.empty(); }

  /// `feed` is the one at hand; null where there is none.
  GreenNitrogen write(bool hungry, const turf::Feed* feed) {
    GreenNitrogen out;
    out.green = green_.green;
    out.days = month_d;
    repair::NitrogenCase books = booksOf(out.warnings);
    if (known_) {
      const repair::NitrogenBalance balance = repair::nitrogenBalance(books);
      out.given_g_m2 = balance.given;
      out.clipped_g_m2 = balance.taken;
      out.washed_g_m2 = balance.washed;
      out.left_g_m2 = balance.left;
      out.drained_mm = balance.drained_mm;
      out.text = fmt::format(
          "In {} days {} of nitrogen given, {} clipped, {} washed down; {} left at most", month_d,
          rate(balance.given), rate(balance.taken), rate(balance.washed), rate(balance.left));
      if (balance.unreleased > 0.0) {
        out.text += fmt::format(" and {} yet to come free", rate(balance.unreleased));
      }
      out.text += ".";
      judge(balance, out.warnings);
    }
    if (hungry) out.hungry = hungerWords(out);
    const bool empty =
        hungry && (fed_.empty() || (out.left_g_m2 && out.left_g_m2->value < oneFeeding()));
    const bool justFed =
        !fed_.empty() && calendar_.today() - fed_.back().day < settings_["fed_shows_after_d"];
    if (feed != nullptr && (underfed_ || empty) && !overfed_ && !justFed) {
      adviseFeeding(*feed, out);
    }
    return out;
  }

 private:
  std::string rate(const measure::Measured& amount_g_m2) const {
    return measure::write(amount_g_m2, Quantity::areaRate, units_).text();
  }
  std::string rate(double amount_g_m2) const {
    return rate(measure::Measured{amount_g_m2, std::nullopt});
  }
  /// A limit that somebody set.
  std::string set(double amount_g_m2) const {
    return measure::writeSet(amount_g_m2, Quantity::areaRate, units_);
  }
  std::string day(double day) const { return dateWords(*calendar_.dateOf(day), calendar_.on()); }

  void findFeedings() {
    const double first = calendar_.today() - followed_d;
    const auto add = [&](measure::Instant done, const std::string& feed,
                         std::optional<double> rate_g_m2) {
      const double day = Calendar::dayOf(done);
      if (day >= first && day <= calendar_.today()) fed_.push_back({day, feed, rate_g_m2});
    };
    const auto over = [&](std::optional<double> product_g) -> std::optional<double> {
      if (!product_g || !(green_.area_m2 > 0.0)) return std::nullopt;
      return *product_g / green_.area_m2;
    };
    constexpr double kilogram_g = 1000.0;
    for (const course::Feeding& feeding : state_.feedings) {
      if (feeding.green != green_.green) continue;
      add(feeding.done, feeding.feed,
          feeding.rate_g_m2    ? feeding.rate_g_m2
          : feeding.product_kg ? over(kilogram_g * *feeding.product_kg)
                               : std::nullopt);
    }
    for (const course::Repair& repair : state_.greenRepairs) {
      if (repair.green != green_.green || (repair.feed.empty() && !repair.feed_g)) continue;
      add(repair.done, repair.feed, over(repair.feed_g));
    }
    std::stable_sort(fed_.begin(), fed_.end(),
                     [](const Fed& a, const Fed& b) { return a.day < b.day; });
  }

  const turf::Feed* feedNamed(const std::string& name) const {
    const auto found = std::find_if(state_.feeds.begin(), state_.feeds.end(),
                                    [&](const turf::Feed& feed) { return feed.name == name; });
    return found == state_.feeds.end() ? nullptr : &*found;
  }

  repair::NitrogenCase booksOf(std::vector<std::string>& warnings) {
    repair::NitrogenCase books;
    books.from = from_;
    books.today = calendar_.today();
    books.rootzone.roots_mm = settings_["roots_mm"];
    books.rootzone.holds_share = settings_["sand_holds_share"];
    books.rootzone.slowRelease_d = settings_["slow_n_release_d"];
    // Without a record of feeding nothing is known, which is not nothing.
    known_ = !fed_.empty();
    for (const Fed& fed : fed_) {
      const turf::Feed* feed = feedNamed(fed.feed);
      if (feed == nullptr || !feed->nitrogen_percent || !fed.rate_g_m2) {
        known_ = false;
        warnings.push_back(fmt::format(
            "nitrogen unknown: {} on {}",
            feed == nullptr ? fmt::format("\"{}\" is not recorded as a feed, given", fed.feed)
            : !feed->nitrogen_percent ? fmt::format("no analysis of {}, given", feed->name)
                                      : fmt::format("no area for the {} given", feed->name),
            day(fed.day)));
        continue;
      }
      const double nitrogen = *fed.rate_g_m2 * *feed->nitrogen_percent / perCent;
      const double soluble = feed->solubleNitrogenShare.value_or(1.0);
      books.given.push_back({fed.day, nitrogen * soluble, nitrogen * (1.0 - soluble)});
    }
    addWater(books);
    addClippings(books);
    return books;
  }

  void addWater(repair::NitrogenCase& books) const {
    const double latitude_deg = latitude();
    measure::Date date = calendar_.on() - std::chrono::days(followed_d);
    for (const double fallen_mm : dailyWater_mm_) {
      repair::WaterDay water;
      water.day = calendar_.beginOf(date);
      water.fallen_mm = fallen_mm;
      water.evaporated_mm = evaporated_mm(date, latitude_deg);
      books.water.push_back(water);
      date += std::chrono::days(1);
    }
  }

  double latitude() const {
    constexpr double unknownLatitude_deg = 50.0;
    for (const course::Green& green : state_.greens) {
      if (green.name == green_.green && !green.shape.empty()) {
        return geo::planeFor(green.shape).origin().latitude_deg;
      }
    }
    return unknownLatitude_deg;
  }

  double evaporated_mm(measure::Date date, double latitude_deg) const {
    const auto record =
        std::lower_bound(state_.temperatures.begin(), state_.temperatures.end(), date,
                         [](const course::Temperature& temperature, measure::Date day) {
                           return temperature.on < day;
                         });
    if (record == state_.temperatures.end() || record->on != date) {
      return settings_["evaporation_mm_d"];
    }
    const std::chrono::year_month_day parts(date);
    const int dayOfYear =
        static_cast<int>((date - measure::Date(parts.year() / std::chrono::January / 1)).count()) +
        1;
    return settings_["turf_evaporation_share"] *
           turf::referenceEvaporation_mm(latitude_deg, dayOfYear, record->min_c, record->max_c);
  }

  void addClippings(repair::NitrogenCase& books) {
    if (!(green_.area_m2 > 0.0)) return;
    for (const course::Mowing& mowing : state_.mowings) {
      if (mowing.green != green_.green || !mowing.clippings_l) continue;
      const double day = Calendar::dayOf(mowing.done);
      if (day < calendar_.today() - followed_d || day > calendar_.today()) continue;
      books.taken.push_back({day, repair::clippedNitrogen_g_m2(*mowing.clippings_l, green_.area_m2,
                                                               repair::clippingsDry_g_l,
                                                               settings_["clippings_n_share"])});
      // Wet clippings lie differently in the box: wet and dry cuts are not compared.
      constexpr double millilitres = 1000.0;
      if (!mowing.wet) {
        dryCuts_.push_back({day, millilitres * *mowing.clippings_l / green_.area_m2});
      }
    }
    std::stable_sort(dryCuts_.begin(), dryCuts_.end());
  }

  bool growIn() const {
    for (const course::Green& green : state_.greens) {
      if (green.name == green_.green && green.stage) return *green.stage == course::Stage::growIn;
    }
    return state_.course.stage == course::Stage::growIn;
  }

  double oneFeeding() const { return settings_["soluble_n_g_m2"]; }

  void adviseFeeding(const turf::Feed& feed, GreenNitrogen& out) const {
    const auto rate_g_m2 = repair::rateForNitrogen_g_m2(feed, oneFeeding());
    if (!rate_g_m2 || !(green_.area_m2 > 0.0)) return;
    constexpr double kilogram_g = 1000.0;
    out.feeding_kg = *rate_g_m2 * green_.area_m2 / kilogram_g;
    const auto nitrogen = repair::nitrogen_g_m2(feed, *rate_g_m2);
    out.feeding = fmt::format(
        "One feeding of the whole green is {} of {}: {}.",
        measure::write({*out.feeding_kg, std::nullopt}, Quantity::fillMass, units_).text(),
        feed.name, nitrogen ? fmt::format("{} of nitrogen", rate(*nitrogen)) : "its label's rate");
  }

  void judge(const repair::NitrogenBalance& balance, std::vector<std::string>& warnings) {
    const bool young = growIn();
    const double low = settings_[young ? "n_month_grow_in_low_g_m2" : "n_month_mature_low_g_m2"];
    const double high = settings_[young ? "n_month_grow_in_high_g_m2" : "n_month_mature_high_g_m2"];
    const std::string_view stage = young ? "a grow-in" : "a mature green";
    if (balance.given > high) {
      warnings.push_back(fmt::format("{} of nitrogen in {} days is more than the {} that {} takes",
                                     rate(balance.given), month_d, set(high), stage));
      overfed_ = true;
    } else if (balance.given < low) {
      warnings.push_back(fmt::format("only {} of nitrogen in {} days; {} takes {} to {}",
                                     rate(balance.given), month_d, stage, set(low), set(high)));
      underfed_ = true;
    }
    const double atOnce = settings_["soluble_n_most_g_m2"];
    for (const Fed& fed : fed_) {
      const turf::Feed* feed = feedNamed(fed.feed);
      if (fed.day < from_ || feed == nullptr || !feed->nitrogen_percent || !fed.rate_g_m2) continue;
      const double soluble = *fed.rate_g_m2 * *feed->nitrogen_percent / perCent *
                             feed->solubleNitrogenShare.value_or(1.0);
      if (soluble > atOnce) {
        warnings.push_back(
            fmt::format("{} of soluble nitrogen at once on {}: sand holds {} at most",
                        rate(soluble), day(fed.day), set(atOnce)));
      }
    }
  }

  std::vector<std::string> hungerWords(const GreenNitrogen& nitrogen) const {
    std::vector<std::string> words{
        "Before feeding ask: is it young growth, a dull cutting edge, dryness, disease, or another "
        "grass?"};
    if (fed_.empty()) {
      words.push_back(fmt::format("No feeding was recorded in {} days.", followed_d));
    } else {
      const Fed& last = fed_.back();
      double fallen_mm = 0.0;
      for (const course::Water& rain : state_.rain) {
        fallen_mm += within_mm(rain, last.day, calendar_.today());
      }
      words.push_back(
          fmt::format("Last fed on {}; {} of rain since.", day(last.day),
                      measure::write({fallen_mm, std::nullopt}, Quantity::rain, units_).text()));
    }
    if (nitrogen.left_g_m2 && nitrogen.left_g_m2->value < oneFeeding()) {
      words.push_back(
          fmt::format("{} of nitrogen are left at most, less than one feeding: hunger is likely.",
                      rate(*nitrogen.left_g_m2)));
    } else if (nitrogen.left_g_m2) {
      words.push_back(fmt::format("{} of nitrogen may be left: look for another cause first.",
                                  rate(*nitrogen.left_g_m2)));
    }
    if (const auto trend = clippingWords()) words.push_back(*trend);
    return words;
  }

  std::optional<std::string> clippingWords() const {
    if (dryCuts_.size() < 2 * cutsCompared) return std::nullopt;
    const auto mean = [&](std::size_t from) {
      double sum = 0.0;
      for (std::size_t i = from; i < from + cutsCompared; ++i) sum += dryCuts_[i].second;
      return sum / cutsCompared;
    };
    const double now = mean(dryCuts_.size() - cutsCompared);
    const double before = mean(dryCuts_.size() - 2 * cutsCompared);
    if (!(now < fewerClippings * before)) return std::nullopt;
    return fmt::format("Clippings fell from {:.0f} to {:.0f} mL/m² over the last dry cuts.", before,
                       now);
  }

  const course::CourseState& state_;
  const GreenProgress& green_;
  const Calendar& calendar_;
  const Settings& settings_;
  const std::vector<double>& dailyWater_mm_;  ///< from `followed_d` ago until today
  measure::UnitSystem units_;
  double from_ = 0.0;
  bool known_ = true;
  bool underfed_ = false;
  bool overfed_ = false;
  std::vector<Fed> fed_;                            ///< by day
  std::vector<std::pair<double, double>> dryCuts_;  ///< day and mL/m2, by day
};

}  // namespace

std::vector<GreenNitrogen> nitrogenOfGreens(const course::CourseState& state, const Stock& stock,
                                            const Progress& progress, measure::UnitSystem units) {
  const Calendar calendar(state, progress.on);
  const Settings settings(state.course.settings);
  const turf::Feed* feed = feedAtHand(state, stock, settings);
  const std::vector<double> water_mm =
      dailyWater_mm(state, calendar.on() - std::chrono::days(followed_d), calendar.on(), calendar);
  std::vector<GreenNitrogen> out;
  for (const GreenProgress& green : progress.greens) {
    const auto hungryAt = std::find(allKinds.begin(), allKinds.end(), turf::Kind::hungry);
    const bool hungry = green.openByKind[static_cast<std::size_t>(hungryAt - allKinds.begin())] > 0;
    GreenBooks books(state, green, calendar, settings, water_mm, units);
    if (books.wasFed() || hungry) out.push_back(books.write(hungry, feed));
  }
  return out;
}

}  // namespace swardwalk::answers
