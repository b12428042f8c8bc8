#include "tests/simulation/world.h"

#include <fmt/format.h>

#include <algorithm>

#include "common/course/recorder.h"
#include "common/journal/digest.h"
#include "tests/simulation/rule_broken.h"
#include "tests/simulation/say.h"

namespace swardwalk::simulation {

namespace {

constexpr std::size_t mostTablets = 5;
constexpr std::int64_t year_ms = 366LL * 24 * 3600 * 1000;

Weather drawWeather(Random& random) {
  Weather weather;
  const auto maybe = [&](unsigned& part, unsigned likely, unsigned most) {
    if (random.chance(likely)) part = 1 + static_cast<unsigned>(random.below(most));
  };
  maybe(weather.lost, 40, 30);
  maybe(weather.cut, 50, 40);
  maybe(weather.doubled, 40, 30);
  maybe(weather.garbled, 20, 10);
  maybe(weather.late, 40, 30);
  maybe(weather.crash, 50, 12);
  maybe(weather.dieInStep, 50, 12);
  maybe(weather.failingDisk, 30, 6);
  maybe(weather.fullDisk, 20, 4);
  maybe(weather.backup, 40, 5);
  maybe(weather.copy, 25, 2);
  maybe(weather.lostKey, 15, 2);
  maybe(weather.clockJump, 30, 4);
  maybe(weather.builds, 30, 4);
  maybe(weather.stick, 30, 6);
  maybe(weather.forger, 20, 4);
  maybe(weather.smallBatches, 30, 60);
  maybe(weather.erasing, 30, 3);
  return weather;
}

}  // namespace

World::World(std::uint64_t seed, std::ostream* trace)
    : seed_(seed), trace_(trace), random_(seed), weather_(drawWeather(random_)) {
  shed_ = std::make_unique<Machine>(vfs_, "shed", random_);
  shed_->start();
  if (random_.chance(80)) {
    const auto founded = shed_->journal().found(random_.bytes<16>(), shed_->now_ms, "Shed");
    if (!founded) throw RuleBroken("J2: no course can be founded: " + founded.error().text());
    shed_->claimAllHeads();
  }
  for (std::uint64_t count = 2 + random_.below(2); count > 0; --count) addTablet();
}

World::~World() = default;

void World::addTablet() {
  Tablet tablet;
  tablet.machine = std::make_unique<Machine>(
      vfs_, std::string("tablet") + static_cast<char>('A' + tablets_.size()), random_);
  tablet.machine->start();
  tablets_.push_back(std::move(tablet));
}

Machine& World::anyMachine() {
  const std::uint64_t one = random_.below(tablets_.size() + 1);
  return one == 0 ? *shed_ : *tablets_[one - 1].machine;
}

void World::dropSessionOf(const Machine& machine) {
  for (Tablet& tablet : tablets_)
    if (tablet.machine.get() == &machine) drop(tablet);
}

void World::live() {
  const std::uint64_t steps = random_.chance(5) ? 250 : 40 + random_.below(60);
  for (steps_ = 1; steps_ <= steps; ++steps_) step();
}

void World::step() {
  now_ += static_cast<std::int64_t>(random_.below(20));
  while (!mail_.empty() && isOver(mail_.begin()->second)) mail_.erase(mail_.begin());
  // What is due arrives first; else somebody does something, or time passes to the next.
  if (!mail_.empty() && (mail_.begin()->first <= now_ || random_.chance(50))) {
    const auto first = mail_.begin();
    now_ = std::max(now_, first->first);
    Letter letter = std::move(first->second);
    mail_.erase(first);
    deliver(letter);
    return;
  }
  struct Choice {
    unsigned weight;
    void (World::*what)();
  };
  const Choice choices[] = {
      {20, &World::peopleWrite},
      {20, &World::beginExchange},
      {weather_.crash, &World::crashSomebody},
      {weather_.dieInStep + weather_.failingDisk + weather_.fullDisk, &World::armDisk},
      {weather_.backup, &World::backUpOrRestore},
      {weather_.copy, &World::copySomebody},
      {weather_.lostKey, &World::loseSomebodysKey},
      {weather_.clockJump, &World::jumpClock},
      {weather_.builds, &World::changeBuild},
      {weather_.stick, &World::passStick},
      {weather_.forger, &World::forge},
      {weather_.stick / 2, &World::acceptSomebody},
      {weather_.erasing, &World::eraseSomething},
  };
  unsigned all = 0;
  for (const Choice& choice : choices) all += choice.weight;
  auto at = static_cast<unsigned>(random_.below(all));
  for (const Choice& choice : choices) {
    if (at < choice.weight) {
      (this->*choice.what)();
      return;
    }
    at -= choice.weight;
  }
}

void World::peopleWrite() {
  Machine& machine = anyMachine();
  if (!machine.journal().course()) return;
  std::vector<journal::Draft> drafts;
  for (std::uint64_t count = random_.chance(10) ? 12 : 1 + random_.below(3); count > 0; --count) {
    drafts.push_back(drawDraft(random_, machine.build()));
    drafts.back().wall_ms = machine.now_ms;
  }
  const auto written = machine.write(drafts);
  say("{} writes {} records: {}", machine.name(), drafts.size(),
      written ? "saved" : written.error().text());
  if (!written) {
    dropSessionOf(machine);
    if (written.error().kind != FailureKind::refused && !machine.disk().failed())
      throw RuleBroken("J2: a good disk could not save: " + written.error().text());
  }
}

void World::beginExchange() {
  Tablet& tablet = anyTablet();
  if (tablet.session) return;
  tablet.session.emplace();
  tablet.session->number = ++sessions_;
  tablet.session->asker = std::make_unique<exchange::Asker>(tablet.machine->journal(), "shed");
  say("{} begins exchange {}", tablet.machine->name(), sessions_);
  ask(tablet);
}

void World::crashSomebody() {
  Machine& machine = anyMachine();
  const bool powerLoss = random_.chance(60);
  say("{} {}", machine.name(), powerLoss ? "loses power" : "is killed");
  dropSessionOf(machine);
  machine.crash(powerLoss);
}

void World::armDisk() {
  using Operation = journal::VirtualDisk::Operation;
  Machine& machine = anyMachine();
  journal::VirtualDisk& disk = machine.disk();
  const Operation operation = random_.chance(70) ? Operation::write : Operation::sync;
  const std::uint64_t count = 1 + random_.below(operation == Operation::sync ? 4 : 40);
  auto sort = static_cast<unsigned>(
      random_.below(weather_.dieInStep + weather_.failingDisk + weather_.fullDisk));
  if (sort < weather_.dieInStep) {
    say("{} will die at {} {}", machine.name(), operation == Operation::write ? "write" : "sync",
        count);
    disk.dieAt(operation, count);
  } else if (sort < weather_.dieInStep + weather_.failingDisk) {
    say("{} will fail at {} {}", machine.name(), operation == Operation::write ? "write" : "sync",
        count);
    disk.failAt(operation, count);
  } else if (random_.chance(50)) {
    say("{} has no room left", machine.name());
    disk.room(random_.below(30'000));
  } else {
    say("{} has room again", machine.name());
    disk.room(UINT64_MAX);
  }
}

void World::backUpOrRestore() {
  if (random_.chance(25)) {
    if (shedBackup_ && random_.chance(50)) {
      say("the shed is restored from its backup");
      ++shedLives_;
      shed_->restore(*shedBackup_);
      shedBackup_.reset();
    } else if (shed_->journal().course()) {
      // A blank one that comes back would found another course, which nobody else is of.
      say("the shed is backed up");
      shedBackup_ = shed_->image();
    }
    return;
  }
  Tablet& tablet = anyTablet();
  if (tablet.backup && random_.chance(50)) {
    say("{} is restored from its backup", tablet.machine->name());
    drop(tablet);
    tablet.machine->restore(*tablet.backup);
    tablet.backup.reset();
  } else {
    say("{} is backed up", tablet.machine->name());
    tablet.backup = tablet.machine->image();
  }
}

void World::copySomebody() {
  if (tablets_.size() >= mostTablets) return;
  const std::size_t from = random_.below(tablets_.size());
  const Machine::Image image = tablets_[from].machine->image();
  addTablet();
  Tablet& copy = tablets_.back();
  say("{} is a copy of {}", copy.machine->name(), tablets_[from].machine->name());
  copy.machine->restore(image);
}

void World::loseSomebodysKey() {
  Machine& machine = anyMachine();
  say("{} loses its key", machine.name());
  dropSessionOf(machine);
  machine.loseKey();
}

void World::jumpClock() {
  Machine& machine = anyMachine();
  machine.now_ms += (static_cast<std::int64_t>(random_.below(41)) - 20) * year_ms;
  say("the clock of {} jumps to {} ms", machine.name(), machine.now_ms);
}

void World::changeBuild() {
  Machine& machine = anyMachine();
  const auto build = static_cast<Build>(random_.below(buildCount));
  say("{} gets build {}", machine.name(), static_cast<int>(build));
  dropSessionOf(machine);
  machine.stop();
  machine.setBuild(build);
  machine.start();
}

void World::passStick() {
  Machine& from = anyMachine();
  Machine& to = anyMachine();
  if (&from == &to || !from.journal().course()) return;
  std::string bytes;
  const auto given = exchange::writeAll(from.journal(), from.now_ms, [&](std::string_view part) {
    bytes += part;
    return Result<void>();
  });
  if (from.settle()) return dropSessionOf(from);
  if (!given) throw RuleBroken("X1: no file can be written: " + given.error().text());
  from.claimAllHeads();
  if (random_.chance(30)) bytes.resize(random_.below(bytes.size()));
  dropSessionOf(to);
  const auto taken = exchange::readAll(to.journal(), bytes, journal::Vouching::waiting);
  if (to.settle()) return say("{} died while it read a stick", to.name());
  say("{} reads the stick of {}: {}", to.name(), from.name(),
      taken ? fmt::format("{} records", taken->received) : taken.error().text());
  if (taken && taken->ownOriginForked) to.renewOrigin();
}

void World::acceptSomebody() {
  Machine& machine = anyMachine();
  for (const journal::OriginInfo& info : machine.journal().origins()) {
    if (info.accepted) continue;
    course::Recorder recorder(machine.journal(), {}, [&] { return machine.now_ms; });
    const auto accepted = recorder.accept(info.origin);
    say("{} accepts origin {}", machine.name(), journal::hex(info.origin.data(), 4));
    if (machine.settle() || !accepted) dropSessionOf(machine);
    return;
  }
}

void World::eraseSomething() {
  Machine& machine = anyMachine();
  if (!machine.journal().course()) return;
  const auto heads = anyMachine().journal().heads();
  if (heads.empty()) return;
  // Of somebody else's journal: it may come here later than the wish.
  const journal::Head head = heads[random_.below(heads.size())];
  course::Recorder recorder(machine.journal(), {}, [&] { return machine.now_ms; });
  const auto wished = recorder.erase(head.digest);
  say("{} wants record {} of origin {} erased", machine.name(), head.number,
      journal::hex(head.origin.data(), 4));
  if (machine.settle() || !wished) return dropSessionOf(machine);
  machine.claim({{wished->origin, wished->number, wished->digest}});
}

/// Somebody without the key writes in another's name (X5), as whoever can reach the shed.
void World::forge() {
  const Machine& victim = *anyTablet().machine;
  Machine& shed = *shed_;
  const auto heads = shed.journal().heads();
  if (heads.empty()) return;
  const journal::Head head = heads[random_.below(heads.size())];
  exchange::Message message;
  message.hello.course = shed.journal().course();
  message.hello.heads = std::vector<journal::Head>{};
  journal::Run run;
  run.origin = head.origin;
  run.after = head.number;
  run.base = head.digest;
  journal::Record record;
  record.content = drawDraft(random_, victim.build());
  record.origin = head.origin;
  record.number = head.number + 1;
  record.counter = 1 + random_.below(1000);
  record.bodyDigest = journal::blake2b(record.content.body);
  record.digest = journal::recordDigest(head.digest, record);
  run.head = record.digest;
  run.signature = journal::Signer(random_.bytes<32>())
                      .signHead(*message.hello.course, {head.origin, record.number, record.digest});
  run.records.push_back(record);
  message.runs.push_back(run);
  say("somebody forges record {} of origin {}", record.number, journal::hex(head.origin.data(), 4));
  forged_.push_back({head.origin, record.number, record.digest});
  answerOf(pack(exchange::write(message)));
}

}  // namespace swardwalk::simulation
