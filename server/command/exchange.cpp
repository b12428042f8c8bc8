#include <boost/json.hpp>
#include <filesystem>

#include "common/course/course_fold.h"
#include "common/exchange/answer_taker.h"
#include "common/journal/folder.h"
#include "server/command/commands.h"
#include "server/command/csv.h"
#include "server/command/files.h"
#include "server/command/shed_link.h"
#include "server/door/known_devices.h"
#include "server/http/exchange_client.h"

namespace swardwalk::server {
namespace {

Result<void> exchangeOverHttp(exchange::Asker& asker, const CommandLine& line, Console& console) {
  const std::string& address = line.with;
  auto link = linkTo(line);
  if (!link) {
    if (link.error().where.empty()) link.error().where = address;
    return tl::unexpected(link.error());
  }
  ExchangeClient client(std::move(link->wire), link->host, link->token);
  for (;;) {
    const auto message = asker.next(console.now_ms());
    if (!message) return tl::unexpected(message.error());
    if (!*message) return {};
    exchange::AnswerTaker taker(asker);
    const auto take = [&](std::string_view bytes) {
      const std::uint64_t before = asker.tally().received;
      auto taken = taker.take(bytes, console.now_ms());
      if (asker.tally().received > before) {
        console.err << asker.tally().received << " records received\n" << std::flush;
      }
      return taken;
    };
    auto done = client.post(exchange::compress(exchange::write(**message)), take);
    if (done) done = taker.finish();
    if (!done) {
      if (done.error().where.empty()) done.error().where = address;
      return done;
    }
    console.err << asker.tally().sent << " records sent\n" << std::flush;
  }
}

/// A file on a stick: what it brings is read, then everything is written out. Nobody
/// vouches for a file, so origins that are new here wait.
Result<exchange::Tally> exchangeWithFile(journal::Journal& journal, const CommandLine& line,
                                         Console& console) {
  const std::string& file = line.with;
  const auto shutOut = shutOutOf(line.data);
  if (!shutOut) return tl::unexpected(shutOut.error());
  exchange::Tally tally;
  std::error_code ignored;  // a file that cannot be looked at fails when it is read
  if (std::filesystem::exists(file, ignored)) {
    const auto bytes = readFile(file);
    if (!bytes) return tl::unexpected(bytes.error());
    auto taken = exchange::readAll(
        journal, *bytes, journal::Vouching::waiting,
        [&](const journal::OriginKey& origin) { return shutOut->contains(origin); });
    if (!taken) {
      Failure failure = taken.error();
      failure.where = failure.where.empty() ? file : file + ", " + failure.where;
      return tl::unexpected(std::move(failure));
    }
    tally = std::move(*taken);
    console.err << tally.received << " records received\n" << std::flush;
  }
  if (!journal.course()) {
    return fail(FailureKind::invalid, file, "neither this journal nor the file knows a course",
                "import a course file first");
  }
  tally.sent = journal.recordCount();
  auto given = replaceFile(file, [&](const std::function<Result<void>(std::string_view)>& emit) {
    return exchange::writeAll(journal, console.now_ms(), emit);
  });
  if (!given) return tl::unexpected(given.error());
  return tally;
}

void print(const CommandLine& line, Console& console, const exchange::Tally& tally) {
  const std::string sent = std::to_string(tally.sent);
  const std::string received = std::to_string(tally.received);
  switch (line.format) {
    case Format::text:
      console.out << sent << " records sent, " << received << " records received\n";
      break;
    case Format::json:
      console.out << boost::json::serialize(
                         boost::json::object{{"sent", tally.sent}, {"received", tally.received}})
                  << '\n';
      break;
    case Format::csv:
      console.out << csvLine({"sent", "received"}) << csvLine({sent, received});
      break;
  }
}

/// Alarms, and a new key where somebody else writes under ours (X3).
int settle(const CommandLine& line, Console& console, journal::Journal& journal,
           const exchange::Tally& tally) {
  int status = 0;
  for (const std::string& alarm : tally.alarms) {
    status = refuse(console, {FailureKind::refused, line.with, alarm, ""});
  }
  if (!tally.ownOriginForked) return status;
  const auto renewed = journal::renewOrigin(
      journal, line.data, "somebody else writes under this key", console.now_ms());
  if (!renewed) return refuse(console, renewed.error());
  console.err << line.data
              << ": somebody else writes under this journal's key, because it was copied or "
                 "restored; both branches are kept, and this one writes on under the new origin "
              << journal::hex(journal.origin()) << '\n';
  return status;
}

}  // namespace

int runExchange(const CommandLine& line, Console& console) {
  const bool isShed = isShedAddress(line.with);
  course::CourseFold fold;
  auto journal = journal::openFolder(line.data, journal::Missing::make, fold);
  if (!journal) return refuse(console, journal.error());

  exchange::Tally tally;
  Result<void> done;
  if (isShed) {
    exchange::Asker asker(*journal, exchange::shedName);
    done = exchangeOverHttp(asker, line, console);
    tally = asker.tally();
  } else {
    auto taken = exchangeWithFile(*journal, line, console);
    if (taken) tally = std::move(*taken);
    if (!taken) done = tl::unexpected(taken.error());
  }
  if (isShed || done) print(line, console, tally);
  sayWhoWaits(console, *journal);
  int status = settle(line, console, *journal, tally);
  if (!done) status = refuse(console, done.error());
  return status;
}

}  // namespace swardwalk::server
