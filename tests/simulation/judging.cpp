#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "common/course/recorder.h"
#include "common/exchange/compression.h"
#include "common/exchange/memory.h"
#include "tests/simulation/rule_broken.h"
#include "tests/simulation/say.h"
#include "tests/simulation/world.h"

// The end of a world: faults cease, everybody meets, and everything must hold.
namespace swardwalk::simulation {

void World::judge() {
  ++steps_;
  heal();
  meetUntilQuiet();
  acceptAll();
  meetUntilQuiet();
  expectEqual();
}

void World::heal() {
  say("all faults end");
  mail_.clear();
  weather_ = {};
  const auto healMachine = [](Machine& machine) {
    machine.disk().mend();
    machine.stop();
    machine.setBuild(Build::present);
    machine.start();
  };
  for (Tablet& tablet : tablets_) {
    drop(tablet);
    healMachine(*tablet.machine);
  }
  healMachine(*shed_);
}

/// One exchange without faults; gives whether anything moved.
bool World::meetOnce(Tablet& tablet) {
  constexpr unsigned mostRounds = 30;
  Machine& machine = *tablet.machine;
  tablet.session.emplace();
  tablet.session->asker = std::make_unique<exchange::Asker>(machine.journal(), "shed");
  exchange::Asker& asker = *tablet.session->asker;
  unsigned rounds = 0;
  const std::uint64_t before = shed_->journal().changeCount() + machine.journal().changeCount();
  while (true) {
    const auto question = asker.next(machine.now_ms);
    if (!question) throw RuleBroken("X1: " + question.error().text());
    if (!*question) break;
    if (++rounds > mostRounds)
      throw RuleBroken("X1: the exchange of " + machine.name() + " does not end");
    const auto answer = answerOf(pack(exchange::write(**question)));
    if (!answer) throw RuleBroken("X1: the shed does not answer " + machine.name());
    const auto message =
        exchange::readMessage(*exchange::decompress(*answer, exchange::limits::messageBytes));
    if (!message) throw RuleBroken("X1: the answer cannot be read: " + message.error().text());
    auto taken = asker.take(message->hello, machine.now_ms);
    if (taken) taken = asker.take(message->runs);
    if (taken) taken = asker.finish();
    if (!taken) throw RuleBroken("X1: " + taken.error().text());
  }
  for (const std::string& alarm : asker.tally().alarms)
    if (!asker.tally().ownOriginForked && alarm.find("two different records") == std::string::npos)
      throw RuleBroken("X1: an alarm without a fault: " + alarm);
  const bool moved = shed_->journal().changeCount() + machine.journal().changeCount() != before;
  endSession(tablet);
  return moved;
}

void World::meetUntilQuiet() {
  // Once up, once down, and twice more where keys are renewed.
  for (int pass = 0; pass < 6; ++pass) {
    bool moved = false;
    for (Tablet& tablet : tablets_) moved = meetOnce(tablet) || moved;
    if (!moved) return;
  }
  throw RuleBroken("X1: there is always something new to exchange");
}

void World::acceptAll() {
  std::set<journal::OriginKey> waiting;
  const auto collect = [&](Machine& machine) {
    for (const journal::OriginInfo& info : machine.journal().origins())
      if (!info.accepted) waiting.insert(info.origin);
  };
  for (Tablet& tablet : tablets_) collect(*tablet.machine);
  collect(*shed_);
  course::Recorder recorder(shed_->journal(), {}, [this] { return shed_->now_ms; });
  for (const journal::OriginKey& origin : waiting) {
    say("the shed accepts origin {}", journal::hex(origin.data(), 4));
    if (auto accepted = recorder.accept(origin); !accepted)
      throw RuleBroken("X5: cannot be accepted: " + accepted.error().text());
  }
}

/// X3: whoever was restored or copied writes on under a new origin.
void World::expectOwnBranch(Machine& machine) {
  std::size_t branches = 0;
  for (const journal::Head& head : machine.journal().heads())
    if (head.origin == machine.journal().origin()) ++branches;
  if (branches > 1)
    throw RuleBroken("X3: " + machine.name() + " still writes under a key with two branches");
}

void World::expectWhole(Machine& machine) {
  const auto report = machine.journal().check();
  if (!report) throw RuleBroken("J3: " + machine.name() + ": " + report.error().text());
  for (const journal::Finding& finding : report->findings)
    throw RuleBroken(fmt::format("{}: {}: {}: {}", report->whole ? "J4" : "J3", machine.name(),
                                 finding.where, finding.what));
}

/// What an accepted origin wants erased is, wherever it is, and nothing else.
void World::expectErased(Machine& machine) {
  const std::set<journal::Digest> wanted = machine.erasures();
  const auto read = machine.journal().forEach([&](const journal::Record& record) {
    const bool should = record.content.type != "origin" && wanted.contains(record.digest);
    if (record.erased != should)
      throw RuleBroken(fmt::format("J4: {} {} record {} of origin {}", machine.name(),
                                   should ? "still has the body of" : "lost the body of",
                                   record.number, journal::hex(record.origin.data(), 4)));
    return true;
  });
  if (!read) throw RuleBroken("J3: " + read.error().text());
}

void World::expectEqual() {
  journal::Journal& shed = shed_->journal();
  const std::string state = shed_->state();
  std::set<journal::Digest> digests;
  const auto read = shed.forEach([&](const journal::Record& record) {
    if (!digests.insert(record.digest).second) throw RuleBroken("X1: a record is doubled");
    return true;
  });
  if (!read) throw RuleBroken("J3: " + read.error().text());
  for (const journal::Head& head : forged_)
    if (shed.holds(head)) throw RuleBroken("X5: a forged record was taken");
  shed_->checkClaims();
  expectWhole(*shed_);
  expectErased(*shed_);
  expectOwnBranch(*shed_);
  for (Tablet& tablet : tablets_) {
    Machine& machine = *tablet.machine;
    machine.checkClaims();
    for (const journal::Head& head : machine.claims())
      if (!shed.holds(head))
        throw RuleBroken("X1: the shed lacks what " + machine.name() + " said that it holds");
    if (machine.journal().vector() != shed.vector())
      throw RuleBroken("X1: " + machine.name() + " and the shed hold different records");
    if (machine.state() != state)
      throw RuleBroken("J4: " + machine.name() + " and the shed have different states");
    expectOwnBranch(machine);
    expectErased(machine);
    if (exchange::notYetHeldBy(machine.journal(), "shed") != 0)
      throw RuleBroken("X2: " + machine.name() + " takes for undelivered what the shed holds");
  }
  expectWhole(*tablets_[seed_ % tablets_.size()].machine);
}

}  // namespace swardwalk::simulation
