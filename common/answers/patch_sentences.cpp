#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "common/answers/answer_text.h"
#include "common/answers/sentences.h"

namespace swardwalk::answers {
namespace {

using infill::Verdict;
using measure::Quantity;
using repair::SowingState;

/// What all sentences of one patch lean on.
struct Teller {
  PatchProgress& patch;
  const PatchStory& story;
  const course::CourseState& state;
  const Calendar& calendar;
  measure::UnitSystem units;

  std::string date(measure::Date day) const { return dateWords(day, calendar.on()); }

  std::string day(std::optional<double> day) const {
    const auto date = calendar.dateOf(day);
    return date ? dateWords(*date, calendar.on()) : std::string("a far day");
  }

  std::string area(const measure::Measured& area) const {
    return measure::write(area, Quantity::area, units).text();
  }

  int daysBetween(double from, double to) const {
    const auto first = calendar.dateOf(from);
    const auto last = calendar.dateOf(to);
    return first && last ? static_cast<int>((*last - *first).count()) : 0;
  }

  /// "Five sightings in 21 days"; of those with a size in this chapter.
  std::string sightings() const {
    const int n = static_cast<int>(story.history.sizes.size());
    std::string text = capital(counted(n, "sighting", "sightings"));
    const int days = daysBetween(story.firstSizeDay, story.lastSizeDay);
    if (n > 1 && days > 0) text += fmt::format(" in {}", counted(days, "day", "days"));
    return text;
  }

  std::string creep(double sign = 1.0) const {
    measure::Measured creep = *patch.edgeCreep_mm_d;
    creep.value = sign * creep.value;
    return measure::write(creep, Quantity::creep, units).text();
  }

  std::string temperature() const {
    return story.mean_c ? fmt::format("at {:.0f} °C", *story.mean_c)
                        : std::string("the temperature unknown");
  }

  std::string whereSpecies() const {
    if (patch.green.empty()) return "no green is known for it";
    const bool onGreen = patch.zone == course::Zone::green;
    return story.zoneSpecies.empty()
               ? fmt::format("no grass is named for {}{}", onGreen ? "" : "the surround of ",
                             patch.green)
               : fmt::format("nothing is known of {}", listed(story.zoneSpecies));
  }

  void waiting() {
    const std::string sown = day(story.sowing.sownDay);
    const auto& until = story.sowing.daysUntilUp;
    patch.weight = Weight::calm;
    if (!until) {
      patch.answer = fmt::format("Sown {}, cannot say when it is up", sown);
      patch.brief = fmt::format("Sown {}", sown);
      patch.why = story.mean_c ? fmt::format("Sown {}; {} nothing comes up.", sown, temperature())
                               : fmt::format("Sown {}; nothing is known of this grass.", sown);
      return;
    }
    const double due = *story.sowing.sownDay + until->best;
    const int overdue = daysBetween(*story.sowing.sownDay + until->high, calendar.today());
    switch (patch.sowing) {
      case SowingState::overdue:
        patch.answer = overdue > 0 ? fmt::format("Sown, {} overdue", duration(overdue))
                                   : std::string("Sown, overdue");
        patch.weight = Weight::watch;
        break;
      case SowingState::due:
        patch.answer = "Sown, due now";
        patch.weight = Weight::watch;
        break;
      default:
        patch.answer = fmt::format("Sown, due {}", day(due));
        break;
    }
    patch.brief = patch.answer;
    patch.note = fmt::format("Sown {}", sown);
    patch.why = fmt::format("Sown {}; up {:.0f} to {:.0f} days after, {}.", sown, until->low,
                            until->high, temperature());
    if (patch.sowing == SowingState::overdue) patch.why += " Look for dryness and cold first.";
  }

  /// "24 mm of rain on 9 April took the seed"
  std::string washWords() const {
    const Wash& wash = *story.wash;
    if (wash.rain_mm && !wash.seen) {
      const auto rain = measure::write({*wash.rain_mm, std::nullopt}, Quantity::rain, units);
      return fmt::format("{} of rain on {} took the seed", rain.text(), day(wash.day));
    }
    return fmt::format("it was seen washed again on {}", day(wash.day));
  }

  /// "Since the first sighting it was fed on 3 April and the cut came down from 6 to 4 mm."
  std::string changes() const {
    const Changes& changes = story.changes;
    std::vector<std::string> told;
    if (changes.fedDay) told.push_back(fmt::format("it was fed on {}", day(changes.fedDay)));
    if (changes.cutFrom_mm) {
      const auto height = [this](double value_mm) {
        return measure::write({value_mm, std::nullopt}, Quantity::depth, units);
      };
      told.push_back(fmt::format(
          "the cut went {} from {} to {}", *changes.cutTo_mm < *changes.cutFrom_mm ? "down" : "up",
          height(*changes.cutFrom_mm).figure, height(*changes.cutTo_mm).text()));
    }
    if (changes.warmer_c) {
      told.push_back(fmt::format("it has become {:.0f} °C {}", std::abs(*changes.warmer_c),
                                 *changes.warmer_c > 0.0 ? "warmer" : "colder"));
    }
    return told.empty()
               ? std::string()
               : fmt::format(" Since it was first measured {}: its pace may change.", listed(told));
  }

  /// "Set aside: 0.90 m² on 4 April does not fit the others, which say 0.31 m²."
  std::string setAside() const {
    const auto& aside = patch.forecast.setAside;
    if (!aside) return {};
    std::string text = fmt::format(" Set aside: {} on {} does not fit the others",
                                   area(aside->area_m2), day(aside->day));
    if (patch.forecast.expected_m2) {
      text += fmt::format(", which say {}", area({*patch.forecast.expected_m2, std::nullopt}));
    }
    return text + ".";
  }

  /// " It touches when half its width, 30 mm, is crept over."
  std::string halfWidth() const {
    constexpr double narrow = 3.0;
    const auto& edge = patch.forecast.edge;
    if (!edge || !patch.area_m2 || patch.forecast.cover) return {};
    // A disc of this area would have a radius several times as wide.
    const double disc_mm = 1000.0 * std::sqrt(patch.area_m2->value / std::numbers::pi);
    if (disc_mm < narrow * edge->closingInset_mm) return {};
    return fmt::format(
        " It is long and narrow: half its width, {}, decides.",
        measure::write({edge->closingInset_mm, std::nullopt}, Quantity::depth, units).text());
  }

  std::string scatter() const {
    constexpr double rough = 1.7;
    return patch.forecast.scatter > rough && patch.forecast.sightings > 2
               ? std::string(" Its sizes scatter more than they should.")
               : std::string();
  }

  std::string puttable() const {
    if (!patch.puttableOn) return {};
    const bool far = *patch.puttableOn - calendar.on() > std::chrono::days(365);
    const std::string on = (far ? "in " : "") + farWords(*patch.puttableOn, calendar.on());
    if (patch.forecast.cover) return fmt::format(" Puttable {}.", on);
    const auto knit_d = static_cast<int>(std::lround(story.history.puttableAfterTouching_d));
    return fmt::format(" Puttable {}: knit and at height, {} after it touches.", on,
                       duration(knit_d));
  }

  void closing() {
    const bool up = patch.sowing == SowingState::up;
    const auto& opening = patch.openingDay;
    if (!patch.closesOn) {
      const bool never = !patch.forecast.closesDays.empty();
      patch.answer = story.tooCold ? "At rest: too cold to creep"
                     : never       ? "Too slow to close in ten years"
                     : up          ? "Up, no closing day yet"
                                   : "Closing, no day yet";
      patch.brief = story.tooCold ? "At rest, too cold"
                    : never       ? "Too slow to close"
                                  : patch.answer;
      patch.weight = patch.late ? Weight::stop : Weight::calm;
    } else {
      const bool far = *patch.closesOn - calendar.on() > std::chrono::days(365);
      const std::string about = far ? "in " : patch.forecast.fromPriorOnly ? "about " : "";
      const std::string closes =
          fmt::format("closes {}{}", about, farWords(*patch.closesOn, calendar.on()));
      const std::string head = up ? "Up, " + closes : capital(closes);
      if (!opening) {
        patch.answer = patch.brief = head;
        patch.weight = Weight::calm;
      } else if (*patch.closesOn > *opening) {
        const int days = static_cast<int>((*patch.closesOn - *opening).count());
        patch.answer = fmt::format("{}, {} late", head, duration(days));
        patch.brief = "Late, " + closes;
        patch.weight = Weight::stop;
      } else if (patch.daysLate) {
        patch.answer = fmt::format("{}, puttable {} late", head, duration(*patch.daysLate));
        patch.brief = "Late, " + closes;
        patch.weight = Weight::stop;
      } else {
        patch.answer = head + ", in time";
        patch.brief = up ? head : "In time, " + closes;
        patch.weight = Weight::good;
      }
    }
    const int others = story.history.pool.patches;
    if (patch.forecast.fromPriorOnly && patch.edgeCreep_mm_d && others > 0) {
      patch.why = fmt::format("{}; by {} of {} and its grass it creeps {}, {}.", sightings(),
                              counted(others, "other patch", "other patches"), patch.green, creep(),
                              temperature());
    } else if (patch.forecast.fromPriorOnly && patch.edgeCreep_mm_d) {
      patch.why = fmt::format("{}; {} usually creeps {}, {}.", sightings(), story.priorSpecies,
                              creep(), temperature());
    } else if (patch.edgeCreep_mm_d) {
      patch.why = fmt::format("{}; the edge moves in {}.", sightings(), creep());
    } else if (!story.history.coverSeen.empty() && !story.sowing.sownDay) {
      patch.why = fmt::format("{}; plants inside cover it, the outline stays.", sightings());
    } else if (up) {
      patch.why =
          fmt::format("Sown {}, seen up {}.", day(story.sowing.sownDay), day(story.sowing.upDay));
    } else {
      patch.why = sightings() + ".";
    }
    if (story.tooCold) {
      patch.why += fmt::format(" Below {:.0f} °C {} does not creep; now {}.", story.coldest_c,
                               story.priorSpecies, temperature());
    }
    patch.why += halfWidth() + setAside() + scatter() + changes() + puttable();
    if (up && story.sowing.sownDay) {
      patch.note = fmt::format("Sown {}, up", day(story.sowing.sownDay));
    }
  }

  void growing() {
    patch.weight = Weight::stop;
    patch.answer = "Growing";
    if (story.firstArea_m2 && story.lastArea_m2) {
      const auto first = measure::write(*story.firstArea_m2, Quantity::area, units);
      const auto last = measure::write(*story.lastArea_m2, Quantity::area, units);
      patch.answer =
          fmt::format("Growing: {} to {} {} in {}", first.figure, last.figure, last.unit,
                      counted(daysBetween(story.firstSizeDay, story.lastSizeDay), "day", "days"));
    }
    patch.brief = patch.answer;
    patch.why = patch.edgeCreep_mm_d
                    ? fmt::format("{}; the edge moves out {}.", sightings(), creep(-1.0))
                    : sightings() + ".";
    patch.why += setAside() + changes();
  }

  void stalled() {
    patch.weight = patch.late ? Weight::stop : Weight::watch;
    const int days = daysBetween(story.firstSizeDay, story.lastSizeDay);
    patch.answer = patch.area_m2 ? fmt::format("Stalled for {} at {}", counted(days, "day", "days"),
                                               area(*patch.area_m2))
                                 : fmt::format("Stalled for {}", counted(days, "day", "days"));
    patch.brief = fmt::format("Stalled for {}", counted(days, "day", "days"));
    patch.why =
        patch.edgeCreep_mm_d
            ? fmt::format("{}; the edge moves in {}, which may be nothing.", sightings(), creep())
            : sightings() + ".";
    patch.why += setAside() + changes();
  }

  void hungry() {
    patch.weight = Weight::watch;
    patch.answer = "Feed today";
    patch.why = "Hungry places are fed: they do not close and do not count as bare.";
    const auto fed = calendar.dateOf(story.fedDay);
    const Settings settings(state.course.settings);
    if (fed && fedSinceSeen(story, calendar, settings)) {
      patch.weight = Weight::calm;
      patch.answer = fmt::format("Fed {}", date(*fed));
      patch.why = fmt::format("Fed {}; it shows after {}.", date(*fed),
                              duration(static_cast<int>(settings["fed_shows_after_d"])));
    }
    patch.brief = patch.answer;
  }

  void closed() {
    patch.weight = Weight::calm;
    if (story.history.closedDay) {
      patch.answer = fmt::format("Closed {}", day(story.history.closedDay));
      patch.why = fmt::format("Seen closed on {}.", day(story.history.closedDay));
    } else {
      patch.answer = patch.lastSeen
                         ? fmt::format("Closed {}", date(calendar.dateOf(*patch.lastSeen)))
                         : std::string("Closed");
      patch.why = patch.area_m2 && patch.forecast.largestArea_m2
                      ? fmt::format("Last seen at {}, less than 5 % of the largest, {}.",
                                    area(*patch.area_m2),
                                    area({*patch.forecast.largestArea_m2, std::nullopt}))
                      : std::string("Less than 5 % of the largest is left.");
    }
    patch.brief = patch.answer;
  }

  void cannotSay() {
    patch.weight = Weight::calm;
    const bool sizes = !story.history.sizes.empty();
    const std::string reason =
        !sizes ? "no size"
               : counted(static_cast<int>(story.history.sizes.size()), "sighting", "sightings");
    patch.answer = "Cannot say yet: " + reason;
    patch.brief = patch.sightings <= 1 ? "New, cannot say yet" : "Cannot say yet";
    if (sizes && story.tooCold) {
      patch.answer = "At rest: too cold to creep";
      patch.brief = "At rest, too cold";
      patch.why = fmt::format("{}; below {:.0f} °C {} does not creep, and it is {:.0f} °C.",
                              sightings(), story.coldest_c, story.priorSpecies, *story.mean_c);
      return;
    }
    if (sizes && !story.history.coverSeen.empty()) {
      patch.answer = "Cannot say yet: too little cover";
      patch.why =
          fmt::format("{}; plants inside, but too few to tell when they cover it.", sightings());
      return;
    }
    patch.why = sizes ? fmt::format("{}, and {}.", sightings(), whereSpecies())
                      : std::string("No sighting has a size: measure it once.");
  }
};

}  // namespace

void writePatch(PatchProgress& patch, const course::CourseState& state, const Calendar& calendar,
                measure::UnitSystem units) {
  patch.look = lookOf(patch);
  Teller teller{patch, *patch.story, state, calendar, units};
  switch (patch.verdict) {
    case Verdict::closing:
      teller.closing();
      break;
    case Verdict::closed:
      teller.closed();
      break;
    case Verdict::stalled:
      teller.stalled();
      break;
    case Verdict::growing:
      teller.growing();
      break;
    case Verdict::waitingForSeed:
      teller.waiting();
      break;
    case Verdict::feed:
      teller.hungry();
      break;
    case Verdict::cannotSayYet:
      teller.cannotSay();
      break;
  }
  if (patch.sowing == SowingState::washedOut && patch.verdict != Verdict::closed) {
    const std::string lost = teller.day(patch.story->wash->day);
    patch.note = fmt::format("Seed washed out {}", lost);
    patch.why = fmt::format("{}. {}", capital(teller.washWords()), patch.why);
    patch.weight = Weight::stop;
  }
  if (patch.area_m2) patch.area = measure::write(*patch.area_m2, Quantity::area, units);
  if (patch.shareClosed && patch.verdict != Verdict::feed && *patch.shareClosed > 0.0) {
    patch.closedText = measure::writeShare(*patch.shareClosed) + " closed";
  }
  if (patch.lastSeen) {
    patch.seenText = teller.date(calendar.dateOf(*patch.lastSeen));
    if (patch.note.empty() && patch.sightings == 1 && patch.verdict != Verdict::closed) {
      patch.note = fmt::format("New on {}", patch.seenText);
    }
  }
  patch.kindText = turf::word(patch.kind);
  if (patch.lastSeen) {
    const bool today = calendar.dateOf(*patch.lastSeen) == calendar.on();
    patch.kindText += ", " + (today ? std::string("today") : patch.seenText);
  }
}

}  // namespace swardwalk::answers
