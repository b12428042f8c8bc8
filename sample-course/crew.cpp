#include "sample-course/crew.h"

#include <algorithm>
#include <boost/json.hpp>
#include <cmath>

#include "sample-course/ground.h"

namespace swardwalk::sample {
using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;

const std::vector<Tablet>& tablets() {
  static const std::vector<Tablet> all = {
      {"a", "Ansa", 2.2, 0, -1, -1},
      {"b", "Bo", 2.8, 0, 20, 26},
      // Three hours and twelve minutes slow, and nobody noticed.
      {"c", "Tilde", 3.4, -(3LL * 60 + 12) * 60 * 1000, -1, -1},
  };
  return all;
}

/// One patch before one pair of eyes.
struct Crew::Look {
  const Tablet& tablet;
  const TruePatch& patch;
  int day;
  TrueSize size;
  measure::Instant when;
  Noise& noise;
  std::string id;
};

namespace {

const Tablet& tabletOf(const std::string& letter) {
  return *std::find_if(tablets().begin(), tablets().end(),
                       [&](const Tablet& tablet) { return tablet.letter == letter; });
}

/// Every green is walked on Mondays, Wednesdays and so on, and after a storm.
bool walked(std::size_t green, int day) {
  if (day == firstStormDay + 1 || day == secondStormDay + 1) return true;
  return (day + static_cast<int>(green)) % 3 == 0;
}

/// The second tablet's identity of a patch that was marked twice.
std::string secondId(const std::string& id) {
  std::string other = id;
  std::reverse(other.begin(), other.end());
  return other;
}

bool markedTwice(const TruePatch& patch) {
  return patch.story == Story::markedTwice || patch.story == Story::markedTwiceOpen;
}

/// What the crew decides the morning after the great storm.
course::Choice choiceOf(const TruePatch& patch, const std::string& id) {
  course::Choice choice;
  choice.patch = id;
  if (patch.story == Story::stalls) {
    choice.choice = "mend the cause first";
    choice.why = "The sprinkler beside it leaks; nothing roots in that wet.";
    choice.who = "Ansa";
  } else {
    choice.choice = "fill and sow";
    choice.who = patch.green == 0 ? "Bo" : "Tilde";
  }
  return choice;
}

}  // namespace

Crew::Crew(const Season& season, measure::Date firstDay, std::uint64_t seed)
    : season_(&season), firstDay_(firstDay), seed_(seed) {}

course::Sighting Crew::sightingOf(const Look& look) const {
  course::Sighting sighting;
  sighting.patch = look.id;
  sighting.kind = look.patch.kind;
  sighting.seen = look.when;
  sighting.green = greens()[look.patch.green].name;
  DriftingError east(look.noise, look.tablet.accuracy_m, 120.0);
  DriftingError north(look.noise, look.tablet.accuracy_m, 120.0);
  sighting.point = coursePlane().toGlobe(
      {look.patch.middle.east_m + east.next(1.0), look.patch.middle.north_m + north.next(1.0)});
  sighting.accuracy_m = look.tablet.accuracy_m;
  if (look.patch.story == Story::seenOnce) return sighting;

  // A tape lies between two edges, each placed to 20 mm; people read centimetres.
  const auto read_m = [&](double true_m) {
    const double read = true_m + 0.02 * (look.noise.normal() + look.noise.normal());
    return std::max(0.01, std::round(read * 100.0) / 100.0);
  };
  const bool narrow = look.size.width_m < 0.15;
  const auto readNarrow_m = [&](double true_m) {
    const double read = true_m + 0.004 * (look.noise.normal() + look.noise.normal());
    return std::max(0.005, std::round(read * 1000.0) / 1000.0);
  };
  sighting.tape =
      course::TapeSize{look.patch.round ? geo::TapeForm::ellipse : geo::TapeForm::rectangle,
                       read_m(look.size.length_m),
                       narrow ? readNarrow_m(look.size.width_m) : read_m(look.size.width_m)};
  // Across a narrow scar the rule lies on the edge itself.
  if (narrow) sighting.edge_u_m = 0.004;
  if (look.size.depth_mm >= 5.0) {
    const int readings = look.patch.kind == turf::Kind::washed ? 3 : 1;
    for (int i = 0; i < readings; ++i) {
      sighting.depths_mm.push_back(
          std::max(1.0, std::round(look.size.depth_mm + 2.0 * look.noise.normal())));
    }
  }
  return sighting;
}

void Crew::look(std::vector<Action>& actions, const Look& look) const {
  const auto& patch = look.patch;
  if (look.day < patch.bornDay) return;
  const bool first = look.day < patch.bornDay + 3;
  if (!look.size.open || look.size.width_m < 0.006) {
    // Closed: said once, on the first round that finds it so.
    const auto before = season_->sizeOn(patch, look.day - 3);
    if (before.open && before.width_m >= 0.006) {
      actions.push_back({look.when, course::Closed{{}, look.id, look.when}, {}, patch.green});
    }
    return;
  }
  if (patch.story == Story::seenOnce && !first) return;
  // A round misses one patch in eight, but never a new one, and none after the great storm.
  if (!first && look.noise.chance(0.125) && look.day != secondStormDay + 1) return;
  actions.push_back({look.when, sightingOf(look), {}, patch.green});
}

void Crew::milestones(std::vector<Action>& actions, const Look& look) const {
  const auto stones = Season::milestones(look.patch.story);
  const auto later = look.when + hours(2);
  course::Repair repair;
  repair.patch = look.id;
  repair.done = later;
  const auto size = season_->sizeOn(look.patch, look.day - 1);
  if (look.day == stones.filledSown || look.day == stones.sownAgain) {
    if (size.depth_mm >= 5.0) {
      repair.fill = "Medium sand";
      repair.fill_l = std::round(size.area_m2 * size.depth_mm * 0.67 * 1.1);
    }
    repair.seedLot = "Bent 26-4";
    repair.seed_g = std::round(size.area_m2 * 80.0) / 10.0;
    repair.feed = "Starter 6-9-6";
    repair.feed_g = std::round(size.area_m2 * 12.0);
  } else if (look.day == stones.rakedBack) {
    repair.rakedBack = true;
  } else if (look.day == stones.fed) {
    repair.feed = "Starter 6-9-6";
    repair.feed_g = std::round(season_->sizeOn(look.patch, look.day).area_m2 * 12.0);
  } else if (look.day == stones.up) {
    actions.push_back({later, course::CameUp{{}, look.id, later, 0.7}, {}, look.patch.green});
    return;
  } else if (look.day == stones.chosen) {
    actions.push_back({later, choiceOf(look.patch, look.id), {}, look.patch.green});
    return;
  } else if (look.day == stones.joined) {
    actions.push_back({later, course::Join{{}, look.id, secondId(look.id)}, {}, look.patch.green});
    return;
  } else {
    return;
  }
  actions.push_back({later, repair, {}, look.patch.green});
}

std::vector<Action> Crew::dayOf(const std::string& letter, int day) const {
  const auto& tablet = tabletOf(letter);
  Noise noise(seed_ * 1000003ULL + static_cast<std::uint64_t>(day) * 31ULL +
              static_cast<std::uint64_t>(letter[0]));
  std::vector<Action> actions;
  auto when = measure::Instant(dateOf(day)) + hours(6) + minutes(30);
  for (std::size_t i = 0; i < greens().size(); ++i) {
    if (greens()[i].walker != letter || !walked(i, day)) continue;
    course::Round round;
    round.green = greens()[i].name;
    round.started = when;
    for (const auto& fix : walkOver(i, tablet, when, noise.bits())) {
      round.track.push_back(fix.position);
    }
    for (const auto& patch : season_->patches()) {
      if (patch.green != i) continue;
      when += seconds(75);
      look(actions, {tablet, patch, day, season_->sizeOn(patch, day), when, noise, patch.id});
    }
    when += minutes(3);
    round.ended = when;
    actions.push_back({when, round, {}, i});
    when += minutes(6);
  }
  for (const auto& patch : season_->patches()) {
    const auto& walker = greens()[patch.green].walker;
    const measure::Instant at = measure::Instant(dateOf(day)) + hours(9);
    const Look own{tablet, patch, day, season_->sizeOn(patch, day), at, noise, patch.id};
    if (walker == letter) milestones(actions, own);
    // Somebody else crosses the green on the morning when it is new.
    const std::string crossing = walker == "a" ? "b" : "a";
    if (crossing != letter || !markedTwice(patch)) continue;
    const int found = patch.bornDay == secondStormDay + 1 ? patch.bornDay : patch.bornDay + 2;
    if (day != found) continue;
    Look other{tablet, patch, day, season_->sizeOn(patch, day), at, noise, secondId(patch.id)};
    actions.push_back({at, sightingOf(other), {}, patch.green});
  }
  std::stable_sort(actions.begin(), actions.end(),
                   [](const Action& a, const Action& b) { return a.when < b.when; });
  return actions;
}

std::string Crew::shedFile() const {
  namespace json = boost::json;
  json::array features;
  const auto add = [&](json::object properties) {
    features.push_back(json::object{
        {"type", "Feature"}, {"geometry", nullptr}, {"properties", std::move(properties)}});
  };
  const auto tenth = [](double number) { return std::round(number * 10.0) / 10.0; };
  const auto zone = measure::Zone::utc();
  for (int day = 0; day < seasonDays; ++day) {
    const auto& weather = season_->weather()[static_cast<std::size_t>(day)];
    const auto date = measure::isoDate(dateOf(day));
    add({{"role", "temperature"},
         {"on", date},
         {"min_c", tenth(weather.min_c)},
         {"max_c", tenth(weather.max_c)}});
    if (weather.rain_mm > 0.0) {
      json::object rain{{"role", "rain"}, {"on", date}, {"mm", tenth(weather.rain_mm)}};
      if (weather.peak_mm_h) rain["peak_mm_h"] = *weather.peak_mm_h;
      add(std::move(rain));
    }
    for (const auto& green : greens()) {
      const auto done = zone.write(measure::Instant(dateOf(day)) + hours(8));
      if (day % 2 == 0) {
        add({{"role", "mowing"},
             {"green", green.name},
             {"done", done},
             {"height_mm", 7},
             {"clippings_l", tenth(18.0 + 6.0 * std::sin(day / 5.0))}});
      }
      if (day % 14 == 5) {
        add({{"role", "feeding"},
             {"green", green.name},
             {"done", done},
             {"feed", "Starter 6-9-6"},
             {"rate_g_m2", 12}});
      }
    }
  }
  return json::serialize(json::object{{"type", "FeatureCollection"}, {"features", features}}) +
         "\n";
}

}  // namespace swardwalk::sample
