#include "common/answers/patch_life.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <tuple>

#include "common/answers/calendar.h"
#include "common/answers/history.h"
#include "common/answers/sentences.h"

namespace swardwalk::answers {
namespace {

using measure::Quantity;

std::string wayOf(const course::Sighting& sighting) {
  if (sighting.area_m2) return "seen, area given";
  if (!sighting.outline.empty()) return "seen, by outline";
  if (sighting.tape) return "seen, by tape";
  if (sighting.frame) return "seen, by frame";
  return "seen, not measured";
}

std::string begins(const Chapter& chapter, std::size_t number, const course::Sighting& sighting) {
  switch (chapter.begins) {
    case Chapter::Begins::first:
      return fmt::format("Chapter 1: {}", turf::word(sighting.kind));
    case Chapter::Begins::washed:
      return fmt::format("Chapter {}: washed again", number);
    case Chapter::Begins::dug:
      return fmt::format("Chapter {}: dug again", number);
    case Chapter::Begins::otherKind:
      return fmt::format("Chapter {}: now {}", number, turf::word(sighting.kind));
    case Chapter::Begins::reopened:
      return fmt::format("Chapter {}: open again", number);
    case Chapter::Begins::sownAgain:
      break;
  }
  return fmt::format("Chapter {}", number);
}

class Writer {
 public:
  Writer(const course::Patch& patch, const PatchProgress& progress, const Calendar& calendar,
         const Settings& settings, measure::UnitSystem units)
      : patch_(patch),
        progress_(progress),
        calendar_(calendar),
        settings_(settings),
        units_(units) {}

  std::vector<LifeLine> lines() {
    for (std::size_t i = 0; i < patch_.sightings.size(); ++i) sighting(i);
    for (const course::Repair& repair : patch_.repairs) this->repair(repair);
    for (const course::CameUp& cameUp : patch_.cameUp) {
      const std::string share =
          cameUp.share ? fmt::format("up on {} of it", measure::writeShare(*cameUp.share))
                       : std::string("up");
      add(cameUp.seen, cameUp.source, cameUp.share.value_or(1.0) > 0.0 ? share : "nothing up yet",
          LifeSort::cameUp, cameUp.share.value_or(1.0) > 0.0 ? Weight::good : Weight::watch);
    }
    for (const course::Closed& closed : patch_.closed) {
      add(closed.seen, closed.source, "closed", LifeSort::closed, Weight::good);
    }
    rain();
    std::stable_sort(lines_.begin(), lines_.end(),
                     [](const LifeLine& a, const LifeLine& b) { return a.when > b.when; });
    return std::move(lines_);
  }

 private:
  LifeLine& add(measure::Instant when, const course::Source& source, std::string what,
                LifeSort sort, Weight weight = Weight::calm) {
    lines_.push_back({when,
                      dateWords(calendar_.dateOf(when), calendar_.on()),
                      source.author,
                      std::move(what),
                      {},
                      weight,
                      sort,
                      source.note});
    return lines_.back();
  }

  std::string amount(double value, Quantity quantity) const {
    return measure::write({value, std::nullopt}, quantity, units_).text();
  }

  void sighting(std::size_t index) {
    const course::Sighting& sighting = patch_.sightings[index];
    std::string what = wayOf(sighting);
    Weight weight = Weight::calm;
    const std::vector<Chapter>& chapters = progress_.story->chapters;
    for (std::size_t i = 0; i < chapters.size(); ++i) {
      if (chapters[i].firstSighting != index || chapters[i].begins == Chapter::Begins::sownAgain) {
        continue;
      }
      what = fmt::format("{}, {}", begins(chapters[i], i + 1, sighting), what);
      if (i > 0) weight = Weight::stop;
    }
    if (!sighting.depths_mm.empty()) {
      const double deepest =
          *std::max_element(sighting.depths_mm.begin(), sighting.depths_mm.end());
      what += fmt::format(
          ", {} deep",
          measure::write({deepest, settings_["depth_u_mm"]}, Quantity::depth, units_).text());
    }
    if (sighting.sandLying_mm) {
      what +=
          fmt::format(", {} of sand lying on it", amount(*sighting.sandLying_mm, Quantity::depth));
    }
    LifeLine& line =
        add(sighting.seen, sighting.source, std::move(what), LifeSort::sighting, weight);
    if (const auto area = areaOf(sighting, settings_)) {
      line.amount = measure::write(*area, Quantity::area, units_);
    }
  }

  void repair(const course::Repair& repair) {
    std::vector<std::string> did;
    const auto with = [](std::string_view what, const std::string& name, const std::string& much) {
      std::string text(what);
      if (!name.empty()) text += fmt::format(", {}", name);
      if (!much.empty()) text += fmt::format(", {}", much);
      return text;
    };
    if (repair.rakedBack) did.emplace_back("raked back");
    if (!repair.fill.empty() || repair.fill_l) {
      did.push_back(with("filled", repair.fill,
                         repair.fill_l ? amount(*repair.fill_l, Quantity::volume) : ""));
    }
    if (!repair.seedLot.empty() || repair.seed_g) {
      did.push_back(with("sown", repair.seedLot,
                         repair.seed_g ? amount(*repair.seed_g, Quantity::seedMass) : ""));
    }
    if (!repair.feed.empty() || repair.feed_g) {
      did.push_back(with("fed", repair.feed,
                         repair.feed_g ? amount(*repair.feed_g, Quantity::seedMass) : ""));
    }
    if (repair.turf_m2) did.push_back(with("turfed", "", amount(*repair.turf_m2, Quantity::area)));
    std::string what;
    for (const std::string& part : did) what += (what.empty() ? "" : "; ") + part;
    add(repair.done, repair.source, what.empty() ? "mended" : what, LifeSort::repair);
  }

  void rain() {
    const auto& wash = progress_.story->wash;
    if (!wash || wash->seen) return;
    const auto ms = std::chrono::milliseconds(static_cast<std::int64_t>(wash->day * 86'400'000.0));
    const std::string what = wash->rain_mm ? fmt::format("{} of rain washed the seed out",
                                                         amount(*wash->rain_mm, Quantity::rain))
                                           : std::string("rain washed the seed out");
    add(measure::Instant(ms), {}, what, LifeSort::rain, Weight::stop);
  }

  const course::Patch& patch_;
  const PatchProgress& progress_;
  const Calendar& calendar_;
  const Settings& settings_;
  measure::UnitSystem units_;
  std::vector<LifeLine> lines_;
};

/// How far ahead a chart looks: past opening day, and past closing where that is near
/// it, so that what was seen is not squeezed by a forecast of years.
double horizonOf(const PatchProgress& progress, const Calendar& calendar) {
  constexpr double least_d = 30.0;
  constexpr double near_d = 120.0;
  double last = calendar.today() + least_d;
  if (progress.openingDay) last = std::max(last, calendar.endOf(*progress.openingDay));
  const auto& closes = progress.forecast.closesDay;
  if (closes && *closes < last + near_d) last = std::max(last, *closes);
  const double first = progress.story->firstSizeDay;
  return last + 0.35 * std::max(0.0, last - first);
}

Chart chartOf(const course::Patch& patch, const PatchProgress& progress, const Calendar& calendar,
              const Settings& settings, measure::UnitSystem units) {
  const auto shown = [units](double value_m2) {
    return measure::inUnit(value_m2, Quantity::area, units);
  };
  Chart chart;
  const bool hungry = progress.kind == turf::Kind::hungry;
  chart.axis = fmt::format("{}, {}", hungry ? "off colour" : "still open",
                           measure::unitText(Quantity::area, units));
  chart.title = fmt::format("{}: {}", progress.heading, progress.answer);
  std::size_t nextChapter = 1;
  const std::vector<Chapter>& chapters = progress.story->chapters;
  for (std::size_t i = 0; i < patch.sightings.size(); ++i) {
    const auto area = areaOf(patch.sightings[i], settings);
    bool breaks = false;
    while (nextChapter < chapters.size() && chapters[nextChapter].firstSighting <= i) {
      breaks = true;
      ++nextChapter;
    }
    if (!area) continue;
    ChartDot dot{Calendar::dayOf(patch.sightings[i].seen), shown(area->value), {}, breaks};
    if (area->u) dot.u = shown(*area->u);
    chart.seen.push_back(dot);
  }
  const double horizon = horizonOf(progress, calendar);
  for (const infill::CurvePoint& point :
       infill::closingCurve(progress.forecast, progress.story->history)) {
    if (point.day > horizon && chart.computed.size() > 1) break;
    chart.computed.push_back(
        {point.day, shown(point.area_m2), shown(point.low_m2), shown(point.high_m2)});
  }
  const bool open = progress.verdict != infill::Verdict::closed;
  if (progress.openingDay && open)
    chart.openingDay = static_cast<double>(progress.openingDay->time_since_epoch().count());
  chart.late = progress.late;
  if (open && progress.closesOn) {
    chart.endLabel = fmt::format("closes {}", farWords(*progress.closesOn, calendar.on()));
    if (progress.closesEarliest && progress.closesLatest) {
      chart.endLabel += fmt::format("\n8 of 10 between\n{}\nand {}",
                                    farWords(*progress.closesEarliest, calendar.on()),
                                    farWords(*progress.closesLatest, calendar.on()));
    }
  }
  return chart;
}

/// What an identity was called before it was joined.
std::string headingBefore(const course::Patch& patch, const std::string& id) {
  std::string label = id;
  for (const course::Sighting& sighting : patch.sightings) {
    if (sighting.patch == id && !sighting.label.empty()) label = sighting.label;
  }
  return headingOf(label, patch.green);
}

std::string joinedTextOf(const course::Patch& patch) {
  if (patch.joins.empty()) return {};
  std::vector<std::string> headings{headingBefore(patch, patch.id)};
  for (const std::string& id : patch.joined) headings.push_back(headingBefore(patch, id));
  const std::string& author = patch.joins.back().source.author;
  return fmt::format("{} were joined{}.", listed(headings),
                     author.empty() ? std::string() : " by " + author);
}

/// Newest first; the course state has them in the order in which they were taken.
std::vector<PhotoLine> photosOf(const course::Patch& patch, const Calendar& calendar) {
  std::vector<PhotoLine> lines;
  for (auto photo = patch.photos.rbegin(); photo != patch.photos.rend(); ++photo) {
    std::string text = dateWords(calendar.dateOf(photo->seen), calendar.on());
    if (!photo->source.author.empty()) text += ", " + photo->source.author;
    if (!photo->source.note.empty()) text += ": " + photo->source.note;
    lines.push_back({photo->photo, photo->small.value_or(photo->photo), std::move(text)});
  }
  return lines;
}

}  // namespace

std::optional<PatchLife> patchLife(const course::CourseState& state, const Progress& progress,
                                   std::string_view patch, measure::UnitSystem units) {
  const course::Patch* records = state.patch(patch);
  if (records == nullptr) return std::nullopt;
  const auto found =
      std::find_if(progress.patches.begin(), progress.patches.end(),
                   [&](const PatchProgress& one) { return one.patch == records->id; });
  if (found == progress.patches.end()) return std::nullopt;
  const Calendar calendar(state, progress.on);
  const Settings settings(state.course.settings);
  PatchLife life;
  life.progress = *found;
  life.lines = Writer(*records, *found, calendar, settings, units).lines();
  life.photos = photosOf(*records, calendar);
  life.joinedText = joinedTextOf(*records);
  life.chart = chartOf(*records, *found, calendar, settings, units);
  life.chartSvg = svg(life.chart);
  return life;
}

}  // namespace swardwalk::answers
