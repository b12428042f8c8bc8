#include <zstd.h>

#include <algorithm>

#include "common/exchange/answer_taker.h"
#include "common/exchange/compression.h"
#include "common/exchange/memory.h"
#include "common/journal/digest.h"
#include "tests/simulation/rule_broken.h"
#include "tests/simulation/say.h"
#include "tests/simulation/world.h"

// How letters go between tablets and the shed, and what may happen to them.
namespace swardwalk::simulation {

namespace {

constexpr std::int64_t patience_ms = 2000;

}  // namespace

void World::FreePacker::operator()(ZSTD_CCtx_s* context) const { ZSTD_freeCCtx(context); }

std::string World::pack(std::string_view lines) {
  if (!packer_) packer_.reset(ZSTD_createCCtx());
  std::string packed(ZSTD_compressBound(lines.size()), '\0');
  packed.resize(ZSTD_compressCCtx(packer_.get(), packed.data(), packed.size(), lines.data(),
                                  lines.size(), -5));
  return packed;
}

void World::ask(Tablet& tablet) {
  Machine& machine = *tablet.machine;
  Session& session = *tablet.session;
  const auto question = session.asker->next(machine.now_ms);
  if (machine.settle()) return drop(tablet);
  if (!question) {
    say("{} can't ask: {}", machine.name(), question.error().text());
    return endSession(tablet);
  }
  if (!*question) return endSession(tablet);
  const exchange::Message& message = **question;
  if (message.hello.heads)
    machine.claim(*message.hello.heads);
  else
    machine.claimAllHeads();
  ++session.round;
  Letter letter;
  letter.kind = Letter::Kind::question;
  letter.tablet = static_cast<std::size_t>(&tablet - tablets_.data());
  letter.session = session.number;
  letter.round = session.round;
  letter.bytes = pack(exchange::write(message));
  Letter giveUp = letter;
  giveUp.kind = Letter::Kind::giveUp;
  giveUp.bytes.clear();
  say("{} asks: {} runs{}", machine.name(), message.runs.size(),
      message.hello.heads ? ", heads" : "");
  send(std::move(letter));
  mail_.emplace(now_ + patience_ms, std::move(giveUp));
}

void World::endSession(Tablet& tablet) {
  Machine& machine = *tablet.machine;
  const exchange::Tally tally = tablet.session->asker->tally();
  say("{} ends exchange {}: {} sent, {} received", machine.name(), tablet.session->number,
      tally.sent, tally.received);
  drop(tablet);
  if (!tally.ownOriginForked) return;
  say("{} takes a new key", machine.name());
  machine.renewOrigin();
}

void World::send(Letter letter) {
  if (random_.chance(weather_.lost)) return say("  a letter is lost");
  if (random_.chance(weather_.doubled)) {
    say("  a letter is doubled");
    Letter twin = letter;
    mail_.emplace(now_ + 1 + static_cast<std::int64_t>(random_.below(3000)), std::move(twin));
  }
  if (random_.chance(weather_.garbled) && !letter.bytes.empty()) {
    say("  a letter is garbled");
    letter.bytes[random_.below(letter.bytes.size())] = static_cast<char>(random_.next());
  }
  if (random_.chance(weather_.cut)) {
    letter.bytes.resize(random_.below(letter.bytes.size() + 1));
    letter.cut = true;
    say("  a letter is cut to {} bytes", letter.bytes.size());
  }
  const std::uint64_t delay = random_.chance(weather_.late) ? 3000 : 40;
  mail_.emplace(now_ + 1 + static_cast<std::int64_t>(random_.below(delay)), std::move(letter));
}

bool World::isOver(const Letter& letter) const {
  // A connection ends with its exchange: an answer to an earlier question has no way here.
  const Tablet& tablet = tablets_[letter.tablet];
  return letter.kind != Letter::Kind::question &&
         (!tablet.session || tablet.session->number != letter.session ||
          tablet.session->round != letter.round);
}

void World::deliver(Letter& letter) {
  Tablet& tablet = tablets_[letter.tablet];
  if (letter.kind == Letter::Kind::question) return answerQuestion(letter);
  if (letter.kind == Letter::Kind::giveUp) {
    say("{} gives up", tablet.machine->name());
    return endSession(tablet);
  }
  takeAnswer(tablet, letter);
}

std::optional<std::string> World::answerOf(const std::string& bytes) {
  const auto lines = exchange::decompress(bytes, exchange::limits::messageBytes);
  if (!lines) return std::nullopt;
  const auto question = exchange::readMessage(*lines);
  if (!question) return std::nullopt;
  Machine& shed = *shed_;
  if (!question->hello.course && !shed.journal().course()) {
    const auto founded = shed.journal().found(random_.bytes<16>(), shed.now_ms, "Shed");
    if (shed.settle() || !founded) return std::nullopt;
  }
  exchange::AnswerOptions options;
  options.wall_ms = shed.now_ms;
  if (random_.chance(weather_.smallBatches)) options.maxRecords = 1 + random_.below(6);
  auto answer = exchange::answer(shed.journal(), *question, options);
  if (shed.settle()) {
    say("the shed died over a question");
    return std::nullopt;
  }
  if (!answer) {
    say("the shed refuses: {}", answer.error().text());
    if (answer.error().kind == FailureKind::refused) return std::nullopt;
    if (!shed.disk().failed() && answer.error().kind != FailureKind::invalid &&
        answer.error().kind != FailureKind::newer)
      throw RuleBroken("X1: a good shed cannot answer: " + answer.error().text());
    return std::nullopt;
  }
  const exchange::Hello& hello = answer->message.hello;
  shed.claim(hello.held);
  if (hello.same)
    shed.claimAllHeads();
  else if (hello.heads)
    shed.claim(*hello.heads);
  // An answer without heads says that all that was stated is here.
  if (!hello.same && !hello.heads && question->hello.heads)
    for (const journal::Head& head : *question->hello.heads)
      if (!shed.journal().holds(head))
        throw RuleBroken("X2: the shed says that it holds what it does not");
  say("the shed answers: {} received, {} runs, {} held{}{}", answer->received,
      answer->message.runs.size(), hello.held.size(), hello.same ? ", same" : "",
      hello.heads ? ", heads" : "");
  if (answer->ownOriginForked) {
    say("the shed takes a new key");
    if (!shed.renewOrigin()) return std::nullopt;
  }
  return pack(exchange::write(answer->message));
}

void World::answerQuestion(Letter& letter) {
  auto answer = answerOf(letter.bytes);
  if (!answer) return;
  Letter back;
  back.kind = Letter::Kind::answer;
  back.tablet = letter.tablet;
  back.session = letter.session;
  back.round = letter.round;
  back.bytes = std::move(*answer);
  back.shedLives = shedLives_;
  send(std::move(back));
}

void World::takeAnswer(Tablet& tablet, const Letter& letter) {
  Machine& machine = *tablet.machine;
  exchange::AnswerTaker taker(*tablet.session->asker);
  std::string_view rest = letter.bytes;
  Result<void> taken;
  while (!rest.empty() && taken) {
    const std::string_view part = rest.substr(0, 1 + random_.below(600));
    rest.remove_prefix(part.size());
    taken = taker.take(part, machine.now_ms);
    if (machine.settle()) return drop(tablet);
  }
  if (taken) taken = taker.finish();
  if (machine.settle()) return drop(tablet);
  if (!taken) {
    say("{} could not take the answer: {}", machine.name(), taken.error().text());
    return endSession(tablet);
  }
  if (letter.shedLives == shedLives_) checkMemory(tablet);
  ask(tablet);
}

/// X2: what a tablet takes for delivered, the shed holds.
void World::checkMemory(Tablet& tablet) {
  const auto memory = exchange::recallPeer(tablet.machine->journal(), "shed");
  if (!memory) return;
  for (const journal::Head& point : memory->held)
    if (tablet.machine->journal().holds(point) && !shed_->journal().holds(point))
      throw RuleBroken("X2: " + tablet.machine->name() +
                       " takes for delivered what the shed does not hold");
}

}  // namespace swardwalk::simulation
