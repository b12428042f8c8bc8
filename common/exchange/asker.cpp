#include <fmt/format.h>

#include <algorithm>

#include "common/exchange/exchange.h"
#include "common/exchange/lacking.h"
#include "common/exchange/lines.h"
#include "common/exchange/memory.h"
#include "common/exchange/taking.h"
#include "common/journal/digest.h"

namespace swardwalk::exchange {
namespace {

using journal::Head;

tl::unexpected<Failure> outOfTurn(const char* what) {
  return fail(FailureKind::invalid, "answer of the other side", what, "start the exchange again");
}

/// Everything in a question that can make the answer another one.
std::string essenceOf(const Message& question) {
  std::string essence = question.hello.heads ? writeHeads(*question.hello.heads) : "vector";
  essence += writeHeads(question.hello.points);
  for (const journal::Run& run : question.runs) {
    const Head ends[] = {{run.origin, run.after, run.base}, endOf(run)};
    essence += writeHeads(ends);
  }
  return essence;
}

}  // namespace

Asker::Asker(journal::Journal& journal, std::string peerName)
    : journal_(&journal), peerName_(std::move(peerName)) {
  if (auto memory = recallPeer(*journal_, peerName_)) {
    peerHeads_ = std::move(memory->held);
    stateHeads_ = memory->open;
  }
  noteForkedOrigin();
}

Result<std::optional<Message>> Asker::next(std::int64_t wall_ms) {
  if (done_) return std::nullopt;
  const Branches branches(*journal_);
  Message question;
  Hello& hello = question.hello;
  hello.course = journal_->course();
  if (auto looked = confirmLooks(*journal_); !looked) return tl::unexpected(looked.error());
  const std::vector<Head> stated = branches.stated();
  const bool whole = stated == branches.heads();
  hello.vector = journal::vectorDigest(stated);
  hello.wall_ms = wall_ms;

  bool vectorOnly = false;
  if (peerHeads_ && hello.course) {
    Plan plan = branches.plan({*peerHeads_, peerPoints_});
    auto more = fill(*journal_, plan.send, limits::messageRecords, question.runs);
    if (!more) return tl::unexpected(more.error());
    hello.more = *more;
    hello.points = std::move(plan.ladder);
    vectorOnly = whole && rounds_ == 0 && !stateHeads_ && question.runs.empty() && !plan.undecided;
  }
  if (!vectorOnly) {
    hello.heads = stated;
    if (hello.heads->size() > limits::heads) hello.heads->resize(limits::heads);
    if (hello.course) hello.origin = journal_->origin();
  }

  std::string essence = essenceOf(question);
  if (idle_ && essence == lastQuestion_) {
    done_ = true;
    return std::nullopt;
  }
  lastQuestion_ = std::move(essence);
  asked_ = stated;
  asked_ms_ = wall_ms;
  pushed_.clear();
  for (const journal::Run& run : question.runs) pushed_.push_back({endOf(run), run.records.size()});
  learnt_.clear();
  answer_.reset();
  moved_ = false;
  return question;
}

Result<void> Asker::checkPeer(const Hello& hello) {
  // `same` answers a question that named the course, and repeats nothing of it.
  if (hello.same && hello.protocol == protocolVersion) return {};
  if (!hello.course && journal_->course()) {
    return outOfTurn("it does not say which course it is about");
  }
  return meet(*journal_, hello);
}

Result<void> Asker::take(const Hello& hello, std::int64_t wall_ms) {
  if (auto checked = checkPeer(hello); !checked) return checked;
  answer_ = hello;
  peerMisses_ = hello.missing;
  noteClock(hello.wall_ms, wall_ms);
  noteHeld(hello);
  noteTroubles(hello);
  if (learnt_.empty()) return {};
  return remember(true);
}

void Asker::noteClock(std::int64_t peer_ms, std::int64_t now_ms) {
  // The peer looked at its clock about half way between question and answer. A stated
  // time may be anything; a difference beyond 64 bit is no clock's.
  std::int64_t way_ms = 0;
  std::int64_t ahead_ms = 0;
  if (__builtin_sub_overflow(now_ms, asked_ms_, &way_ms) ||
      __builtin_sub_overflow(peer_ms, asked_ms_, &ahead_ms) ||
      __builtin_sub_overflow(ahead_ms, way_ms / 2, &ahead_ms)) {
    return;
  }
  tally_.peerClockAhead_ms = ahead_ms;
}

void Asker::noteHeld(const Hello& hello) {
  const Branches branches(*journal_);
  const auto isHeld = [&](const Pushed& pushed) {
    if (hello.same) return true;
    return std::any_of(hello.held.begin(), hello.held.end(), [&](const Head& held) {
      if (held.origin != pushed.end.origin || held.number < pushed.end.number) return false;
      const Head* branch = branches.branchWith(held);
      return branch && branches.liesOn(pushed.end, *branch);
    });
  };
  for (const Pushed& pushed : pushed_) {
    if (!isHeld(pushed)) continue;
    tally_.sent += pushed.records;
    learnt_.push_back(pushed.end);
    moved_ = true;
  }
  std::erase_if(pushed_, isHeld);
}

void Asker::noteTroubles(const Hello& hello) {
  for (const Trouble& trouble : hello.troubles) {
    if (trouble.error == "gap") continue;
    std::string alarm = fmt::format(
        "The other side did not take records of device {} after number {}: {}. They are safe here",
        shortName(trouble.origin), trouble.after, trouble.reason);
    if (trouble.error != "waits") alarm += "; check this device's journal";
    if (std::find(tally_.alarms.begin(), tally_.alarms.end(), alarm) == tally_.alarms.end()) {
      tally_.alarms.push_back(std::move(alarm));
    }
  }
}

void Asker::noteForkedOrigin() {
  if (tally_.ownOriginForked || !ownOriginForked(*journal_)) return;
  tally_.ownOriginForked = true;
  tally_.alarms.push_back(forkedOriginAlarm());
}

Result<void> Asker::take(const std::vector<journal::Run>& runs) {
  if (!answer_) return outOfTurn("records came before its first line");
  if (!journal_->course() && !answer_->course) return outOfTurn("records came without a course");
  if (auto adopted = adoptCourse(*journal_, *answer_, runs); !adopted) return adopted;
  if (runs.empty()) return {};
  auto taken = takeRuns(*journal_, runs, journal::Vouching::accepted);
  if (!taken) return tl::unexpected(taken.error());
  tally_.received += taken->received;
  if (taken->received > 0) moved_ = true;
  for (std::string& alarm : taken->alarms) {
    if (std::find(tally_.alarms.begin(), tally_.alarms.end(), alarm) == tally_.alarms.end()) {
      tally_.alarms.push_back(std::move(alarm));
    }
  }
  noteForkedOrigin();
  if (taken->held.empty()) return {};
  learnt_.insert(learnt_.end(), taken->held.begin(), taken->held.end());
  // At once, so that after a cut the peer is not given its own records back.
  return remember(true);
}

Result<void> Asker::finish() {
  if (!answer_) return outOfTurn("it has no first line");
  const Hello hello = *std::exchange(answer_, std::nullopt);
  std::vector<Head> own = journal_->heads();
  if (hello.same) {
    peerHeads_ = asked_;
    peerPoints_.clear();
    done_ = true;
  } else if (hello.vector == journal::vectorDigest(own)) {
    peerHeads_ = std::move(own);
    peerPoints_.clear();
    done_ = true;
  } else if (hello.heads) {
    peerHeads_ = hello.heads;
    peerPoints_ = hello.points;
  } else {
    // An answer without heads says that the peer holds all that the question stated.
    learnt_.insert(learnt_.end(), asked_.begin(), asked_.end());
  }
  idle_ = !moved_;
  ++rounds_;
  if (done_ || hello.heads) learnt_.clear();
  return remember(false);
}

void Asker::askAgain() {
  done_ = false;
  idle_ = false;
}

Result<void> Asker::remember(bool open) {
  if (!learnt_.empty()) {
    std::vector<Head> held = peerHeads_.value_or(std::vector<Head>{});
    held.insert(held.end(), learnt_.begin(), learnt_.end());
    peerHeads_ = Branches(*journal_).highest(held);
    learnt_.clear();
  }
  if (!peerHeads_) return {};
  return rememberPeer(*journal_, peerName_, {*peerHeads_, open});
}

std::uint64_t notYetHeldBy(const journal::Journal& journal, const std::string& peerName) {
  const auto memory = recallPeer(journal, peerName);
  return Branches(journal).countAbove(memory ? memory->held : std::vector<Head>{});
}

}  // namespace swardwalk::exchange
