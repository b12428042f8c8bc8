#include <fmt/format.h>
#include <signal.h>

#include <fstream>
#include <functional>
#include <map>
#include <set>
#include <thread>

#include "common/exchange/answer_taker.h"
#include "common/exchange/compression.h"
#include "common/journal/folder.h"
#include "tests/bench/day_end/clock.h"
#include "tests/bench/day_end/crew.h"
#include "tests/bench/day_end/plain_sqlite.h"
#include "tests/bench/day_end/puller.h"
#include "tests/bench/day_end/shed_folder.h"
#include "tests/bench/day_end/tablet.h"
#include "tests/server/child.h"
#include "tests/server/folder.h"
#include "tests/server/proxy.h"

// What a day end costs, measured as common/exchange/SPEED.md says. Arguments: names of
// measurements, none means all; `records=N` (default 1000000) makes the large journal smaller.
namespace swardwalk::bench {
namespace {

constexpr std::size_t tablets = 20;
constexpr std::size_t ofADay = 100'000;

void line(std::string_view what, std::string_view value) {
  fmt::print("{:<58} {}\n", what, value);
  std::fflush(stdout);
}

std::string ms(double seconds) { return fmt::format("{:.2f} ms", 1000.0 * seconds); }

/// Merging against plain SQLite, batch for batch in turn, up to `most` records.
void merge(std::size_t most) {
  const server::TestFolder folder;
  ShedFolder shed(folder / "shed");
  PlainSqlite plain(folder / "plain.sqlite");
  Crew crew(tablets);
  std::vector<double> ours;
  std::vector<double> theirs;
  for (std::size_t done = 0; done < most; done += ofADay) {
    const auto runs = crew.next(ofADay / tablets);
    theirs.push_back(secondsOf([&] { plain.insert(runs); }));
    ours.push_back(secondsOf([&] { shed.take(runs); }));
    line(fmt::format("merge {} onto {}", ofADay, done),
         fmt::format("{}; plain SQLite {}; ratio {:.2f}", ms(ours.back()), ms(theirs.back()),
                     ours.back() / theirs.back()));
  }
  line("growth of the cost a record from the first to the last",
       fmt::format("{:.2f}; plain SQLite {:.2f}", ours.back() / ours.front(),
                   theirs.back() / theirs.front()));
}

void mergeOften() {
  std::vector<double> ours;
  std::vector<double> theirs;
  for (int i = 0; i < 5; ++i) {
    const server::TestFolder folder;
    ShedFolder shed(folder / "shed");
    PlainSqlite plain(folder / "plain.sqlite");
    const auto runs = Crew(tablets).next(ofADay / tablets);
    theirs.push_back(secondsOf([&] { plain.insert(runs); }));
    ours.push_back(secondsOf([&] { shed.take(runs); }));
  }
  line("merge 100,000 from 20 tablets, median of 5",
       fmt::format("{}; plain SQLite {}; ratio {:.2f}", ms(median(ours)), ms(median(theirs)),
                   median(ours) / median(theirs)));
}

/// Small exchanges with a shed of 100,000, over real HTTP on loopback.
void day() {
  const server::TestFolder folder;
  ShedFolder shed(folder / "shed");
  Crew crew(tablets);
  shed.take(crew.next(ofADay / tablets));
  const server::RunningShed running(shed.folder());

  {
    std::vector<double> seconds;
    for (int i = 0; i < 3; ++i) {
      Tablet fresh(folder / fmt::format("fresh{}", i), running.address());
      seconds.push_back(secondsOf([&] { fresh.exchange(); }));
    }
    line("new tablet, 100,000 records, median of 3", ms(median(seconds)));
    const server::Proxy proxy(running.port(), {});
    Tablet counted(folder / "counted", proxy.address());
    const unsigned rounds = counted.exchange();
    line("new tablet, 100,000 records",
         fmt::format("{:.2f} MB in {} round trips", proxy.answerBytes() / 1e6, rounds));
  }
  {
    Tablet tablet(folder / "tablet", running.address());
    tablet.exchange();
    constexpr int repeats = 41;
    std::map<std::string, std::vector<double>> seconds;
    std::map<std::string, unsigned> rounds;
    const auto timed = [&](const std::string& what) {
      seconds[what].push_back(secondsOf([&] { rounds[what] = tablet.exchange(); }));
    };
    tablet.write(crew, 1);
    tablet.exchange();
    for (int i = 0; i < repeats; ++i) {
      timed("nothing new, kept connection");
      tablet.write(crew, 25);
      timed("push 25 onto 100,000");
      shed.take(crew.nextOf(i % tablets, 475));
      timed("pull 475");
    }
    for (const auto& [what, values] : seconds)
      line(fmt::format("{}, median of {}", what, repeats),
           fmt::format("{}, {} round trip(s)", ms(median(values)), rounds[what]));
  }
  const server::Proxy proxy(running.port(), {});
  Tablet tablet(folder / "bytes", proxy.address());
  tablet.exchange();
  tablet.write(crew, 1);
  tablet.exchange();
  std::size_t up = proxy.questionBytes();
  std::size_t down = proxy.answerBytes();
  const auto bytes = [&](const char* what) {
    const unsigned rounds = tablet.exchange();
    // The proxy counts a piece as it passes it on.
    std::this_thread::sleep_for(std::chrono::milliseconds(50));
    line(what, fmt::format("{} bytes of HTTP up, {} down, {} in all, {} round trip(s)",
                           proxy.questionBytes() - up, proxy.answerBytes() - down,
                           proxy.questionBytes() - up + proxy.answerBytes() - down, rounds));
    up = proxy.questionBytes();
    down = proxy.answerBytes();
  };
  std::this_thread::sleep_for(std::chrono::milliseconds(50));
  up = proxy.questionBytes();
  down = proxy.answerBytes();
  bytes("nothing new");
  tablet.write(crew, 25);
  for (std::size_t i = 0; i < 19; ++i) shed.take(crew.nextOf(i, 25));
  bytes("day end, 25 up and 475 down");
}

std::size_t peakOf(pid_t id) {
  std::ifstream status(fmt::format("/proc/{}/status", id));
  for (std::string text; std::getline(status, text);)
    if (text.starts_with("VmHWM:")) return std::stoul(text.substr(6));
  return 0;
}

/// A shed with many records: how soon it is there, and what it needs while all pull.
void large(std::size_t records) {
  const server::TestFolder folder;
  ShedFolder shed(folder / "shed");
  Crew crew(tablets);
  for (std::size_t done = 0; done < records; done += ofADay) shed.take(crew.next(ofADay / tablets));
  shed.close();
  std::vector<double> seconds;
  for (int i = 0; i < 9; ++i) {
    std::unique_ptr<server::RunningShed> running;
    seconds.push_back(
        secondsOf([&] { running = std::make_unique<server::RunningShed>(shed.folder()); }));
    running->child().send(SIGTERM);
    running->child().finish();
  }
  line(fmt::format("server start to accepting with {} records", records), ms(median(seconds)));
  {
    server::RunningShed running(shed.folder());
    line("server memory at rest", fmt::format("{} kB", peakOf(running.child().id())));
    std::vector<std::jthread> pulling;
    for (std::size_t i = 0; i < tablets; ++i)
      pulling.emplace_back([&] { pull(running.port(), crew.course(), 8); });
    pulling.clear();
    line("server memory, 20 tablets pulling at once",
         fmt::format("{} kB at most", peakOf(running.child().id())));
  }
  course::CourseFold later(course::recordTypes(), 1'000);
  std::uint64_t told = 0;
  journal::JournalOptions options;
  options.onRebuild = [&](std::uint64_t, std::uint64_t) { ++told; };
  const double anew = secondsOf([&] {
    const auto journal =
        journal::openFolder(shed.folder(), journal::Missing::refuse, later, options);
    if (!journal) throw std::runtime_error(journal.error().text());
  });
  line(fmt::format("opening {} records with another fold version", records),
       fmt::format("{}, progress told {} times", ms(anew), told));
}

}  // namespace
}  // namespace swardwalk::bench

int main(int count, char** words) {
  namespace bench = swardwalk::bench;
  std::size_t records = 1'000'000;
  std::set<std::string> wanted;
  for (int i = 1; i < count; ++i) {
    const std::string word = words[i];
    if (word.starts_with("records="))
      records = std::stoul(word.substr(8));
    else
      wanted.insert(word);
  }
  const std::pair<const char*, std::function<void()>> all[] = {
      {"merge", bench::mergeOften},
      {"growth", [&] { bench::merge(records); }},
      {"day", bench::day},
      {"large", [&] { bench::large(records); }},
  };
  for (const auto& [name, measure] : all)
    if (wanted.empty() || wanted.contains(name)) measure();
}
