#include "common/answers/plan.h"
#include "common/answers/progress.h"
#include "common/answers/round.h"
#include "common/course/course_fold.h"
#include "common/course/state.h"
#include "common/journal/folder.h"
#include "server/command/commands.h"

namespace swardwalk::server {
namespace {

/// What both commands start from.
struct Today {
  measure::Zone zone = measure::Zone::utc();
  course::CourseState state;
  answers::Progress progress;
};

Result<Today> readToday(const CommandLine& line, Console& console) {
  course::CourseFold fold;
  const auto journal = journal::openFolder(line.data, journal::Missing::refuse, fold);
  if (!journal) return tl::unexpected(journal.error());
  Today today;
  const auto zone = course::courseZone(*journal);
  if (!zone) return tl::unexpected(zone.error());
  today.zone = *zone;
  const measure::Instant now{std::chrono::milliseconds(console.now_ms())};
  const measure::Date on = line.on ? *line.on : zone->dateOf(now);
  auto state = course::readState(*journal, zone->endOf(on));
  if (!state) return tl::unexpected(state.error());
  today.state = std::move(*state);
  today.progress = answers::progress(today.state, on, line.units);
  return today;
}

void print(Console& console, const std::string& text) {
  console.out << text;
  if (!text.empty() && text.back() != '\n') console.out << '\n';
}

}  // namespace

int runProgress(const CommandLine& line, Console& console) {
  const auto today = readToday(line, console);
  if (!today) return refuse(console, today.error());
  switch (line.format) {
    case Format::text:
      print(console, answers::progressText(today->progress));
      break;
    case Format::json:
      print(console, answers::progressJson(today->progress, today->zone));
      break;
    case Format::csv:
      print(console, answers::progressCsv(today->progress, today->zone));
      break;
  }
  return 0;
}

int runPlan(const CommandLine& line, Console& console) {
  const auto today = readToday(line, console);
  if (!today) return refuse(console, today.error());
  const answers::Plan plan = answers::plan(today->state, today->progress, line.units);
  switch (line.format) {
    case Format::text:
      print(console, answers::planText(plan));
      break;
    case Format::json:
      print(console, answers::planJson(plan));
      break;
    case Format::csv:
      print(console, answers::planCsv(plan));
      break;
  }
  return 0;
}

int runRound(const CommandLine& line, Console& console) {
  const auto today = readToday(line, console);
  if (!today) return refuse(console, today.error());
  const answers::Round round = answers::round(today->state, today->progress, line.from);
  switch (line.format) {
    case Format::text:
      print(console, answers::roundText(round));
      break;
    case Format::json:
      print(console, answers::roundJson(round));
      break;
    case Format::csv:
      print(console, answers::roundCsv(round));
      break;
  }
  return 0;
}

}  // namespace swardwalk::server
