// Makes the sample course: what the crew of Quillbeck saw in six weeks, and records each
// tablet's part through the same door as the app (course::Recorder).

#include <CLI/CLI.hpp>
#include <boost/json.hpp>
#include <cstdio>
#include <fstream>
#include <iostream>

#include "common/course/course_fold.h"
#include "common/course/recorder.h"
#include "common/journal/folder.h"
#include "sample-course/crew.h"
#include "sample-course/ground.h"

namespace {
using namespace swardwalk;
using sample::Action;

struct Asked {
  std::string lastDay;
  std::uint64_t seed = 7;
  std::string to;
  std::string data;
  std::string tablet;
  int day = 0;
  std::size_t green = 0;
};

int complain(const std::string& words) {
  std::cerr << words << "\n";
  return 1;
}

int writeFile(const std::string& name, const std::string& bytes) {
  std::ofstream file(name, std::ios::binary);
  file << bytes;
  file.flush();
  return file ? 0 : complain(name + ": cannot be written; choose a folder of your own");
}

std::string truthOf(const sample::Season& season, const sample::Crew& crew) {
  boost::json::array patches;
  for (const auto& patch : season.patches()) {
    boost::json::array areas;
    for (int day = patch.bornDay; day < sample::seasonDays; ++day) {
      areas.push_back(boost::json::object{{"on", measure::isoDate(crew.dateOf(day))},
                                          {"area_m2", season.sizeOn(patch, day).area_m2}});
    }
    patches.push_back(boost::json::object{{"patch", patch.id},
                                          {"green", sample::greens()[patch.green].name},
                                          {"kind", turf::word(patch.kind)},
                                          {"creep_mm_d", patch.creep_mm_d},
                                          {"areas", areas}});
  }
  return boost::json::serialize(boost::json::object{{"patches", patches}}) + "\n";
}

/// Labels a new patch as the app does: by what this tablet knows.
Result<void> label(course::Sighting& sighting, const course::CourseState& state,
                   const std::string& letter) {
  if (const auto* known = state.patch(sighting.patch)) {
    sighting.label = known->label;
    return {};
  }
  // The first tablet needs no letter: the others carry theirs.
  sighting.label = course::nextLabel(state, sighting.green, letter == "a" ? "" : letter);
  return {};
}

Result<void> record(course::Recorder& recorder, journal::Journal& journal, Action action,
                    const std::string& letter) {
  Result<journal::Record> written;
  if (auto* sighting = std::get_if<course::Sighting>(&action.what)) {
    auto state = course::readState(journal, action.when + std::chrono::days(1));
    if (!state) return tl::unexpected(state.error());
    if (auto labelled = label(*sighting, *state, letter); !labelled) return labelled;
    written = recorder.sighting(*sighting);
  } else if (auto* closed = std::get_if<course::Closed>(&action.what)) {
    written = recorder.closed(*closed);
  } else if (auto* repair = std::get_if<course::Repair>(&action.what)) {
    written = recorder.repair(*repair);
  } else if (auto* up = std::get_if<course::CameUp>(&action.what)) {
    written = recorder.cameUp(*up);
  } else if (auto* choice = std::get_if<course::Choice>(&action.what)) {
    written = recorder.choice(*choice);
  } else if (auto* join = std::get_if<course::Join>(&action.what)) {
    written = recorder.join(*join);
  } else {
    written = recorder.round(std::get<course::Round>(action.what));
  }
  if (!written) return tl::unexpected(written.error());
  return {};
}

int recordDay(const sample::Crew& crew, const Asked& asked) {
  const auto actions = crew.dayOf(asked.tablet, asked.day);
  if (actions.empty()) return 0;
  course::CourseFold fold;
  auto journal = journal::openFolder(asked.data, journal::Missing::refuse, fold);
  if (!journal) return complain(journal.error().text());
  const sample::Tablet* tablet = nullptr;
  for (const auto& one : sample::tablets()) {
    if (one.letter == asked.tablet) tablet = &one;
  }
  measure::Instant now{};
  course::Recorder recorder(*journal, {{}, tablet->person, "Tablet " + tablet->letter},
                            [&] { return now.time_since_epoch().count() + tablet->clockWrong_ms; });
  // The receiver's own time says how wrong the clock is.
  recorder.clockIs(journal::ClockSource::satellite, -tablet->clockWrong_ms);
  for (const auto& action : actions) {
    now = action.when;
    if (auto done = record(recorder, *journal, action, tablet->letter); !done) {
      return complain(done.error().text());
    }
  }
  std::cerr << tablet->person << ": " << actions.size() << " records on "
            << measure::isoDate(crew.dateOf(asked.day)) << "\n";
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app("Makes the sample course of Swardwalk.");
  Asked asked;
  app.require_subcommand(1);
  app.add_option("--last-day", asked.lastDay, "last day of the season, YYYY-MM-DD")->required();
  app.add_option("--seed", asked.seed, "everything random comes from it");
  auto* course = app.add_subcommand("course", "writes course.geojson, shed.geojson, truth.json");
  course->add_option("--to", asked.to, "folder")->required();
  auto* day = app.add_subcommand("day", "records one day of one tablet");
  day->add_option("--tablet", asked.tablet)->required()->check(CLI::IsMember({"a", "b", "c"}));
  day->add_option("--day", asked.day)->required()->check(CLI::Range(0, sample::seasonDays - 1));
  day->add_option("--data", asked.data, "the tablet's data folder")->required();
  auto* walk = app.add_subcommand("walk", "writes the NMEA log of a walk over a green");
  walk->add_option("--green", asked.green)->check(CLI::Range(0, 3));
  walk->add_option("--to", asked.to, "file")->required();
  CLI11_PARSE(app, argc, argv);

  const auto last = measure::parseDate(asked.lastDay);
  if (!last) return complain(last.error().text());
  const auto first = *last - std::chrono::days(sample::seasonDays - 1);
  const sample::Season season(asked.seed);
  const sample::Crew crew(season, first, asked.seed);

  if (*course) {
    const auto opening = measure::isoDate(*last + std::chrono::days(95));
    // One green is wanted so soon that only turf is quick enough.
    const auto early = measure::isoDate(*last + std::chrono::days(40));
    const auto tested = measure::isoDate(*last - std::chrono::days(150));
    for (const auto& [name, text] :
         {std::pair{"course.geojson", sample::courseFile(opening, early, tested)},
          std::pair{"shed.geojson", crew.shedFile()},
          std::pair{"truth.json", truthOf(season, crew)}}) {
      if (const int bad = writeFile(asked.to + "/" + name, text)) return bad;
    }
    return 0;
  }
  if (*walk) {
    const auto start = measure::Instant(*last) + std::chrono::hours(6);
    return writeFile(asked.to, sample::nmeaOf(crew.walkOver(asked.green, sample::tablets()[0],
                                                            start, asked.seed)));
  }
  return recordDay(crew, asked);
}
