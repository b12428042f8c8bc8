#include <algorithm>

#include "common/exchange/exchange.h"
#include "common/exchange/lacking.h"
#include "common/exchange/memory.h"
#include "common/exchange/taking.h"
#include "common/journal/digest.h"

namespace swardwalk::exchange {

Result<void> writeAll(const journal::Journal& journal, std::int64_t wall_ms,
                      const std::function<Result<void>(std::string_view)>& emit) {
  if (!journal.course()) {
    return fail(FailureKind::notFound, "exchange", "this journal knows no course yet",
                "make the course first, or exchange with a device that has it");
  }
  const Branches branches(journal);
  Hello hello;
  hello.course = journal.course();
  hello.origin = journal.origin();
  hello.vector = journal::vectorDigest(branches.heads());
  hello.heads = branches.heads();
  if (hello.heads->size() > limits::heads) hello.heads->resize(limits::heads);
  hello.wall_ms = wall_ms;
  if (auto emitted = emit(writeHello(hello)); !emitted) return emitted;

  std::uint64_t records = 0;
  for (const Lack& lack : branches.plan({}).send) {
    std::uint64_t after = lack.after;
    while (after < lack.head.number) {
      auto run = journal.run(lack.head, after);
      if (!run) return tl::unexpected(run.error());
      if (run->records.empty()) break;
      after += run->records.size();
      records += run->records.size();
      if (auto emitted = emit(writeRun(*run)); !emitted) return emitted;
    }
  }
  return emit(writeEnd(records));
}

Result<Tally> readAll(journal::Journal& journal, std::string_view bytes, journal::Vouching vouching,
                      const IsShutOut& isShutOut) {
  // So much is read before it is committed: large enough that the disk's sync costs
  // little, small enough for a tablet's memory.
  constexpr std::size_t step = 4'194'304;
  MessageReader reader(Bounds::file);
  Tally tally;
  bool met = false;
  bool tookRuns = false;
  const auto stopped = [&](const std::string& why) {
    tally.whole = false;
    tally.alarms.push_back(why + (tookRuns
                                      ? ". What came whole before was taken; write the file again"
                                      : ". Nothing of it was taken; write the file again"));
  };
  while (!bytes.empty()) {
    const std::string_view part = bytes.substr(0, step);
    bytes.remove_prefix(part.size());
    const Result<void> read = reader.take(part);
    if (!reader.hello()) {
      if (!read) return tl::unexpected(read.error());
      continue;
    }
    if (!met) {
      if (auto checked = meet(journal, *reader.hello()); !checked) {
        return tl::unexpected(checked.error());
      }
      met = true;
    }
    const std::vector<journal::Run> runs = reader.takeRuns();
    if (auto adopted = adoptCourse(journal, *reader.hello(), runs); !adopted) {
      return tl::unexpected(adopted.error());
    }
    auto taken = takeRuns(journal, runs, vouching, isShutOut);
    if (!taken) return tl::unexpected(taken.error());
    tookRuns = tookRuns || !runs.empty();
    tally.received += taken->received;
    tally.alarms.insert(tally.alarms.end(), taken->alarms.begin(), taken->alarms.end());
    for (const Trouble& trouble : taken->troubles) {
      if (trouble.error == "gap") tally.alarms.push_back(trouble.reason);
    }
    if (!read) {
      stopped(read.error().where + ": " + read.error().what);
      break;
    }
  }
  if (!met) {
    return fail(FailureKind::invalid, "file", "it holds no whole first line of an exchange",
                "write the file again");
  }
  if (tally.whole && !reader.ended()) stopped("The file ends before its end line");
  tally.ownOriginForked = ownOriginForked(journal);
  if (tally.ownOriginForked) tally.alarms.push_back(forkedOriginAlarm());
  return tally;
}

}  // namespace swardwalk::exchange
