#include "common/exchange/taking.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "common/exchange/lacking.h"
#include "common/exchange/memory.h"
#include "common/journal/digest.h"

namespace swardwalk::exchange {
namespace {

using journal::Head;
using journal::Run;
using journal::TakeStatus;

Trouble troubleOf(const Run& run, const char* error, std::string reason) {
  return {run.origin, run.after, error, std::move(reason)};
}

/// Which of the runs would begin a branch beyond what a message can state, or beyond what
/// copies and backups of one device explain: taken, they would keep this journal from ever
/// meeting anybody again.
std::vector<bool> beyondRoom(const journal::Journal& journal, const std::vector<Run>& runs) {
  std::vector<bool> beyond(runs.size(), false);
  const std::vector<Head> heads = journal.heads();
  std::set<Head> ends(heads.begin(), heads.end());
  std::map<journal::OriginKey, std::size_t> branches;
  for (const Head& head : heads) ++branches[head.origin];
  std::size_t count = heads.size();
  for (std::size_t i = 0; i < runs.size(); ++i) {
    const Head end = endOf(runs[i]);
    const bool extends = ends.erase({runs[i].origin, runs[i].after, runs[i].base}) > 0;
    if (!extends && !journal.holds(end)) {
      std::size_t& ofOrigin = branches[runs[i].origin];
      if (count >= limits::heads || ofOrigin >= limits::branches) {
        beyond[i] = true;
        continue;
      }
      ++count;
      ++ofOrigin;
    }
    ends.insert(end);
  }
  return beyond;
}

/// Adds the end of a run; consecutive runs of a branch are one end.
void addHeld(const Run& run, std::vector<Head>& held) {
  const Head base{run.origin, run.after, run.base};
  if (!held.empty() && held.back() == base) held.pop_back();
  held.push_back(endOf(run));
}

void addTrouble(const Run& run, TakeStatus status, Taken& taken) {
  const std::string name = shortName(run.origin);
  switch (status) {
    case TakeStatus::gap:
      taken.troubles.push_back(troubleOf(
          run, "gap", fmt::format("record {} of device {} is not here", run.after, name)));
      return;
    case TakeStatus::wrongDigest:
      taken.troubles.push_back(
          troubleOf(run, "wrong_digest",
                    fmt::format("the records of device {} after number {} do not give the digest "
                                "that was stated for them",
                                name, run.after)));
      break;
    case TakeStatus::badSignature:
      taken.troubles.push_back(
          troubleOf(run, "bad_signature",
                    fmt::format("the records of device {} after number {} are not signed with "
                                "its key",
                                name, run.after)));
      break;
    case TakeStatus::overLimit:
      taken.troubles.push_back(troubleOf(
          run, "over_limit",
          fmt::format("a record of device {} after number {} is over a limit", name, run.after)));
      break;
    case TakeStatus::taken:
    case TakeStatus::known:
      return;
  }
  taken.alarms.push_back(taken.troubles.back().reason +
                         ". They were left out and everything else was taken. Exchange with "
                         "another device that has them, and check this one's journal and that "
                         "of the device that sent them");
}

/// One trouble for all runs of an origin: they wait for the same decision.
void addWaiting(const Run& run, Taken& taken) {
  if (!taken.troubles.empty() && taken.troubles.back().origin == run.origin) return;
  const std::string name = shortName(run.origin);
  taken.troubles.push_back(troubleOf(
      run, "waits",
      fmt::format("device {} was shut out, and what it wrote since then waits until a manager "
                  "accepts it",
                  name)));
  taken.alarms.push_back(fmt::format(
      "Records of device {} came, which was shut out. They stay with who brought them until "
      "somebody accepts the device again",
      name));
}

}  // namespace

std::string shortName(const journal::OriginKey& origin) { return journal::hex(origin.data(), 4); }

std::string forkedOriginAlarm() {
  return "Another device has written under this device's key: this one was restored from an "
         "older copy, or its files were copied. All records of both are kept. This device "
         "writes on under a new key; look through what both wrote since then";
}

Result<void> meet(const journal::Journal& journal, const Hello& hello) {
  if (hello.protocol > protocolVersion) {
    return fail(FailureKind::newer, "exchange",
                fmt::format("the other side speaks protocol {}, this one knows {}", hello.protocol,
                            protocolVersion),
                "update this program");
  }
  const auto own = journal.course();
  if (!own && !hello.course) {
    return fail(FailureKind::notFound, "exchange", "neither side knows a course yet",
                "make the course on one of them first");
  }
  if (own && hello.course && *own != *hello.course) {
    return fail(FailureKind::refused, "exchange",
                "the other side holds another course, and journals of different courses never "
                "mix",
                "exchange with a device of the same course; nothing was taken");
  }
  return {};
}

Result<void> adoptCourse(journal::Journal& journal, const Hello& hello,
                         const std::vector<Run>& runs) {
  if (journal.course() || !hello.course || runs.empty()) return {};
  const bool isProven = std::any_of(runs.begin(), runs.end(), [&hello](const Run& run) {
    return journal::headVerifies(*hello.course, endOf(run), run.signature);
  });
  if (isProven) return journal.adopt(*hello.course);
  return fail(FailureKind::invalid, "exchange",
              "no record that came is signed for the course that was named: something was garbled "
              "on the way",
              "try again; nothing was taken");
}

Result<void> confirmLooks(journal::Journal& journal) {
  if (!journal.course()) return {};
  auto nothing = journal.take({}, journal::Vouching::waiting);
  if (!nothing) return tl::unexpected(nothing.error());
  return {};
}

Result<Taken> takeRuns(journal::Journal& journal, const std::vector<Run>& runs,
                       journal::Vouching vouching, const IsShutOut& isShutOut) {
  Taken taken;
  if (runs.empty()) return taken;
  const std::vector<bool> beyond = beyondRoom(journal, runs);
  std::vector<Run> fitting;
  std::span<const Run> wanted = runs;
  const auto waits = [&](const Run& run) {
    return isShutOut && isShutOut(run.origin) && !journal.holds(endOf(run));
  };
  if (std::find(beyond.begin(), beyond.end(), true) != beyond.end() ||
      std::any_of(runs.begin(), runs.end(), waits)) {
    for (std::size_t i = 0; i < runs.size(); ++i) {
      if (waits(runs[i])) {
        addWaiting(runs[i], taken);
      } else if (beyond[i]) {
        addTrouble(runs[i], TakeStatus::overLimit, taken);
      } else {
        fitting.push_back(runs[i]);
      }
    }
    wanted = fitting;
  }

  auto outcomes = journal.take(wanted, vouching);
  if (!outcomes) return tl::unexpected(outcomes.error());
  bool ownForked = false;
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    const Run& run = wanted[i];
    const journal::TakeOutcome& outcome = (*outcomes)[i];
    taken.received += outcome.added;
    if (outcome.status == TakeStatus::taken || outcome.status == TakeStatus::known) {
      addHeld(run, taken.held);
    } else if (outcome.status != TakeStatus::gap || taken.troubles.empty() ||
               taken.troubles.back().origin != run.origin) {
      // What follows a stopped run of the same origin has a gap before it, of course.
      addTrouble(run, outcome.status, taken);
    }
    if (outcome.added > 0 && run.origin == journal.origin()) ownForked = true;
    if (outcome.forked && run.origin != journal.origin()) {
      taken.alarms.push_back(fmt::format(
          "Device {} wrote two different records under number {}: it was restored from an older "
          "copy, or its files were copied. Both branches are kept; look through what it wrote "
          "since then",
          shortName(run.origin), run.after + 1));
    }
  }
  // The own origin's records are here before they are anywhere else, or somebody else
  // wrote them.
  if (ownForked) {
    if (auto noted = rememberForked(journal); !noted) return tl::unexpected(noted.error());
  }
  return taken;
}

}  // namespace swardwalk::exchange
