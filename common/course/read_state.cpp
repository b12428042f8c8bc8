#include <SQLiteCpp/Exception.h>
#include <SQLiteCpp/Savepoint.h>
#include <fmt/format.h>

#include <algorithm>
#include <boost/json.hpp>
#include <map>
#include <unordered_map>

#include "common/course/checks.h"
#include "common/course/json.h"
#include "common/course/living.h"
#include "common/course/patches.h"
#include "common/course/read_features.h"
#include "common/course/state.h"
#include "common/course/tape_place.h"

namespace swardwalk::course {

namespace {

/// Makes a plain state out of folded records, in whatever order they come.
class StateReader {
 public:
  using People = std::map<journal::PersonId, std::string>;

  StateReader(measure::Zone zone, measure::Instant until, const People& people)
      : zone_(std::move(zone)), until_(until), people_(&people) {}

  void take(const FoldedRecord& record) {
    if (record.withdrawn) return;
    switch (record.table) {
      case FoldedRecord::Table::newer:
        ++newer_[{std::string(record.type), record.version}];
        return;
      case FoldedRecord::Table::unusable:
        addUnusable(record, std::string(record.reason));
        return;
      case FoldedRecord::Table::living:
        break;
    }
    if (record.nameKey) {
      takeNamed(record);
    } else {
      takeEvent(record);
    }
  }

  CourseState finish();

 private:
  using Add = void (*)(StateReader&, const Feature&);
  using Table = std::unordered_map<std::string_view, Add>;

  /// The last version of a thing with a name, unread.
  struct Pick {
    Source source;
    std::string type;
    std::string body;
  };

  void addStock(const Feature& from, Shelf shelf) {
    if (auto count = readStockCount(from, shelf)) state_.stockCounts.push_back(std::move(*count));
  }

  void takeNamed(const FoldedRecord& record) {
    if (!namedAdders().contains(record.type)) return;
    std::string key(record.type);
    // The course is one, whatever it is called.
    if (record.type != "course") key.append(1, '\n').append(*record.nameKey);
    Pick& pick = picks_[key];
    if (!pick.type.empty() && record.source.order() < pick.source.order()) return;
    pick = {sourceOf(record), std::string(record.type), std::string(record.body)};
  }

  void takeEvent(const FoldedRecord& record) {
    if (record.type == "sighting") pieces_.made.emplace(record.subject);
    if (record.at && *record.at >= until_) return;
    const auto add = eventAdders().find(record.type);
    if (add != eventAdders().end()) read(record.body, sourceOf(record), record.type, add->second);
  }

  Source sourceOf(const FoldedRecord& record) const {
    Source source = record.source;
    if (const auto person = people_->find(record.person); person != people_->end())
      source.author = person->second;
    return source;
  }

  void read(std::string_view body, Source source, std::string_view type, Add add) {
    const auto value = json_.read(body);
    Feature feature;
    if (value && (*value)->is_object()) {
      feature.properties = propertiesOf((*value)->get_object());
      feature.geometry = geometryOf((*value)->get_object());
    }
    feature.source = std::move(source);
    if (feature.properties == nullptr) {
      state_.unusable.push_back({feature.source, std::string(type), "its body can't be read"});
    } else {
      add(*this, feature);
    }
  }

  void addUnusable(const FoldedRecord& record, std::string reason) {
    state_.unusable.push_back({sourceOf(record), std::string(record.type), std::move(reason)});
  }

  bool begunBefore(measure::Date day) const {
    return zone_.endOf(day - std::chrono::days(1)) < until_;
  }

  void addWater(const Feature& feature, std::vector<Water>& list) {
    ReadWater read = readWater(feature);
    if (read.on) {
      read.water.from = zone_.endOf(*read.on - std::chrono::days(1));
      read.water.to = zone_.endOf(*read.on);
    }
    if (read.water.from < until_) list.push_back(std::move(read.water));
  }

  void addTemperature(const Feature& feature) {
    Temperature temperature = readTemperature(feature);
    if (!begunBefore(temperature.on)) return;
    const auto [day, isNew] = temperatures_.try_emplace(temperature.on, temperature);
    if (!isNew && day->second.source.order() < temperature.source.order())
      day->second = std::move(temperature);
  }

  static const Table& namedAdders();
  static const Table& eventAdders();

  measure::Zone zone_;
  measure::Instant until_;
  const People* people_;
  JsonReader json_;
  CourseState state_;
  PatchPieces pieces_;
  std::unordered_map<std::string, Pick> picks_;
  std::map<measure::Date, Temperature> temperatures_;
  std::map<std::pair<std::string, int>, std::uint64_t> newer_;
};

const StateReader::Table& StateReader::namedAdders() {
  using Reader = StateReader;
  static const Table table{
      {"course", [](Reader& to, const Feature& from) { to.state_.course = readCourse(from); }},
      {"green",
       [](Reader& to, const Feature& from) { to.state_.greens.push_back(readGreen(from)); }},
      {"surround",
       [](Reader& to, const Feature& from) { to.state_.surrounds.push_back(readSurround(from)); }},
      {"mark", [](Reader& to, const Feature& from) { to.state_.marks.push_back(readMark(from)); }},
      {"seed_lot",
       [](Reader& to, const Feature& from) {
         to.state_.seedLots.push_back(readSeedLot(from));
         to.addStock(from, Shelf::seedLot);
       }},
      {"feed",
       [](Reader& to, const Feature& from) {
         to.state_.feeds.push_back(readFeed(from));
         to.addStock(from, Shelf::feed);
       }},
      {"fill",
       [](Reader& to, const Feature& from) {
         to.state_.fills.push_back(readFill(from));
         to.addStock(from, Shelf::fill);
       }},
      {"turf",
       [](Reader& to, const Feature& from) {
         to.state_.turfs.push_back(readTurf(from));
         to.addStock(from, Shelf::turf);
       }},
  };
  return table;
}

const StateReader::Table& StateReader::eventAdders() {
  using Reader = StateReader;
  static const Table table{
      {"sighting",
       [](Reader& to, const Feature& from) { to.pieces_.sightings.push_back(readSighting(from)); }},
      {"closed",
       [](Reader& to, const Feature& from) { to.pieces_.closed.push_back(readClosed(from)); }},
      {"repair",
       [](Reader& to, const Feature& from) {
         Repair repair = readRepair(from);
         auto& list = repair.patch.empty() ? to.state_.greenRepairs : to.pieces_.repairs;
         list.push_back(std::move(repair));
       }},
      {"came_up",
       [](Reader& to, const Feature& from) { to.pieces_.cameUp.push_back(readCameUp(from)); }},
      {"choice",
       [](Reader& to, const Feature& from) { to.pieces_.choices.push_back(readChoice(from)); }},
      {"photo",
       [](Reader& to, const Feature& from) { to.pieces_.photos.push_back(readPhoto(from)); }},
      {"join", [](Reader& to, const Feature& from) { to.pieces_.joins.push_back(readJoin(from)); }},
      {"frame",
       [](Reader& to, const Feature& from) { to.state_.frames.push_back(readFrame(from)); }},
      {"rain", [](Reader& to, const Feature& from) { to.addWater(from, to.state_.rain); }},
      {"watering", [](Reader& to, const Feature& from) { to.addWater(from, to.state_.watering); }},
      {"temperature", [](Reader& to, const Feature& from) { to.addTemperature(from); }},
      {"mowing",
       [](Reader& to, const Feature& from) { to.state_.mowings.push_back(readMowing(from)); }},
      {"feeding",
       [](Reader& to, const Feature& from) { to.state_.feedings.push_back(readFeeding(from)); }},
      {"round",
       [](Reader& to, const Feature& from) { to.state_.rounds.push_back(readRound(from)); }},
  };
  return table;
}

template <class Thing>
void sortByName(std::vector<Thing>& things) {
  std::sort(things.begin(), things.end(),
            [](const Thing& a, const Thing& b) { return a.name < b.name; });
}

template <class Event, class Moment>
void sortByMoment(std::vector<Event>& events, Moment Event::*moment) {
  std::sort(events.begin(), events.end(), [&](const Event& a, const Event& b) {
    if (a.*moment != b.*moment) return a.*moment < b.*moment;
    return a.source.order() < b.source.order();
  });
}

CourseState StateReader::finish() {
  for (auto& [key, pick] : picks_) {
    read(pick.body, std::move(pick.source), pick.type, namedAdders().at(pick.type));
  }
  CourseState& state = state_;
  sortByName(state.greens);
  sortByName(state.marks);
  sortByName(state.seedLots);
  sortByName(state.feeds);
  sortByName(state.fills);
  sortByName(state.turfs);
  std::sort(state.stockCounts.begin(), state.stockCounts.end(),
            [](const StockCount& a, const StockCount& b) {
              return std::tie(a.shelf, a.material) < std::tie(b.shelf, b.material);
            });
  std::sort(state.surrounds.begin(), state.surrounds.end(),
            [](const Surround& a, const Surround& b) {
              return std::tie(a.green, a.zone) < std::tie(b.green, b.zone);
            });
  for (Sighting& sighting : pieces_.sightings)
    placeByTapes(sighting, state.marks, state.green(sighting.green));
  const Ground ground(state.greens, state.surrounds);
  state.patches = makePatches(std::move(pieces_), ground, state.unusable);

  sortByMoment(state.frames, &Frame::seen);
  sortByMoment(state.greenRepairs, &Repair::done);
  sortByMoment(state.rain, &Water::from);
  sortByMoment(state.watering, &Water::from);
  sortByMoment(state.mowings, &Mowing::done);
  sortByMoment(state.feedings, &Feeding::done);
  sortByMoment(state.rounds, &Round::started);
  for (auto& [day, temperature] : temperatures_)
    state.temperatures.push_back(std::move(temperature));
  std::sort(state.unusable.begin(), state.unusable.end(), [](const Unusable& a, const Unusable& b) {
    return a.source.order() < b.source.order();
  });
  for (const auto& [what, records] : newer_)
    state.madeByNewer.push_back({what.first, what.second, records});
  state.incomplete = !state.madeByNewer.empty();
  return std::move(state_);
}

/// The last version of what `forEachNamed` visits.
struct Latest {
  Source source;
  std::string body;
  void take(const FoldedRecord& record) {
    if (!body.empty() && record.source.order() < source.order()) return;
    source = record.source;
    body = record.body;
  }
};

Result<StateReader::People> readPeople(const journal::Journal& journal) {
  std::map<std::string, Latest> latest;
  const auto read = forEachNamed(journal, "person", [&](const FoldedRecord& record) {
    latest[std::string(*record.nameKey)].take(record);
  });
  if (!read) return tl::unexpected(read.error());
  StateReader::People people;
  JsonReader json;
  for (const auto& [key, person] : latest) {
    if (const auto id = journal::parseHex<16>(key))
      people.emplace(*id, propertyOf(json, person.body, "name"));
  }
  const auto gone = forEachErased(journal, [&](std::string_view type, std::string_view subject) {
    if (type != "person") return;
    if (const auto id = journal::parseHex<16>(subject)) people.emplace(*id, "name erased");
  });
  if (!gone) return tl::unexpected(gone.error());
  return people;
}

measure::Zone zoneNamed(const std::string& name) {
  const auto zone = measure::Zone::named(name);
  return zone ? *zone : measure::Zone::utc();
}

template <class Things>
auto findNamed(const Things& things, std::string_view name) -> decltype(&things.front()) {
  for (const auto& thing : things) {
    if (thing.name == name) return &thing;
  }
  return nullptr;
}

}  // namespace

const Green* CourseState::green(std::string_view name) const { return findNamed(greens, name); }

const Patch* CourseState::patch(std::string_view id) const {
  for (const Patch& candidate : patches) {
    if (candidate.id == id) return &candidate;
    if (std::find(candidate.joined.begin(), candidate.joined.end(), id) != candidate.joined.end())
      return &candidate;
  }
  return nullptr;
}

measure::Zone zoneOf(const CourseState& state) { return zoneNamed(state.course.timeZone); }

Result<measure::Zone> courseZone(const journal::Journal& journal) {
  Latest latest;
  const auto read =
      forEachNamed(journal, "course", [&](const FoldedRecord& record) { latest.take(record); });
  if (!read) return tl::unexpected(read.error());
  if (latest.body.empty()) return measure::Zone::utc();
  JsonReader json;
  const std::string name = propertyOf(json, latest.body, "time_zone");
  return name.empty() ? measure::Zone::utc() : zoneNamed(name);
}

Result<CourseState> readState(const journal::Journal& journal, measure::Instant until) {
  try {
    // One consistent state, although it is read in several steps.
    SQLite::Savepoint together(journal.database(), "reading_course");
    const auto zone = courseZone(journal);
    if (!zone) return tl::unexpected(zone.error());
    const auto people = readPeople(journal);
    if (!people) return tl::unexpected(people.error());
    StateReader reader(*zone, until, *people);
    const auto read =
        forEachFolded(journal, [&](const FoldedRecord& record) { reader.take(record); });
    if (!read) return tl::unexpected(read.error());
    together.release();
    return reader.finish();
  } catch (const SQLite::Exception& error) {
    return fail(FailureKind::io, "the journal",
                fmt::format("its state could not be read ({})", error.what()),
                "try again; if it stays so, run check");
  }
}

}  // namespace swardwalk::course
