#include <algorithm>

#include "common/exchange/exchange.h"
#include "common/exchange/lacking.h"
#include "common/exchange/memory.h"
#include "common/exchange/taking.h"
#include "common/journal/digest.h"

namespace swardwalk::exchange {
namespace {

/// What the asker holds: it says so, or it had a vector that was ours before.
std::optional<Held> heldByAsker(const journal::Journal& journal, const Hello& question) {
  if (question.heads) return Held{*question.heads, question.points};
  if (auto heads = headsOfVector(journal, question.vector)) {
    return Held{std::move(*heads), question.points};
  }
  return std::nullopt;
}

std::vector<journal::Head> fitting(std::vector<journal::Head> heads) {
  if (heads.size() > limits::heads) heads.resize(limits::heads);
  return heads;
}

}  // namespace

Result<Answer> answer(journal::Journal& journal, const Message& question,
                      const AnswerOptions& options) {
  if (!question.hello.course && !question.runs.empty()) {
    return fail(FailureKind::invalid, "exchange", "records came without the course's id",
                "state the course");
  }
  if (auto met = meet(journal, question.hello); !met) return tl::unexpected(met.error());
  if (auto adopted = adoptCourse(journal, question.hello, question.runs); !adopted) {
    return tl::unexpected(adopted.error());
  }
  auto taken = takeRuns(journal, question.runs, options.vouching, options.isShutOut);
  if (!taken) return tl::unexpected(taken.error());

  Answer answer;
  answer.received = taken->received;
  answer.alarms = std::move(taken->alarms);
  answer.ownOriginForked = ownOriginForked(journal);
  if (answer.ownOriginForked) answer.alarms.push_back(forkedOriginAlarm());
  const Branches branches(journal);
  if (auto looked = confirmLooks(journal); !looked) return tl::unexpected(looked.error());
  Hello& hello = answer.message.hello;
  hello.wall_ms = options.wall_ms;
  if (options.missing) hello.missing = options.missing();
  if (hello.missing.size() > limits::missingPhotos) hello.missing.resize(limits::missingPhotos);
  const std::vector<journal::Head> stated = branches.stated();
  const bool whole = stated == branches.heads();
  hello.vector = journal::vectorDigest(stated);
  // Vectors are remembered to save a round trip; where that fails, a round trip is lost.
  const auto rememberOwn = [&] {
    static_cast<void>(rememberVector(journal, hello.vector, fitting(stated)));
  };
  if (hello.vector == question.hello.vector && question.hello.course) {
    hello.same = true;
    rememberOwn();
    return answer;
  }

  // Still blank, this side speaks of the course that was named, and is sent its records.
  hello.course = journal.course() ? journal.course() : question.hello.course;
  hello.origin = journal.origin();
  hello.held = std::move(taken->held);
  hello.troubles = std::move(taken->troubles);
  if (hello.troubles.size() > limits::troubles) hello.troubles.resize(limits::troubles);
  bool understood = false;
  if (const auto held = heldByAsker(journal, question.hello)) {
    Plan plan = branches.plan(*held);
    auto more = fill(journal, plan.send, std::min(options.maxRecords, limits::messageRecords),
                     answer.message.runs);
    if (!more) return tl::unexpected(more.error());
    hello.more = *more;
    hello.points = std::move(plan.ladder);
    understood = whole && !hello.more && !plan.othersUnknown && !plan.undecided;
  }
  if (understood && hello.troubles.empty() && !question.hello.more) {
    // With these records the asker holds what this side holds, and has its vector.
    rememberOwn();
  } else {
    hello.heads = fitting(stated);
  }
  return answer;
}

}  // namespace swardwalk::exchange
