#include <fmt/format.h>

#include <boost/json.hpp>
#include <filesystem>

#include "common/course/course_fold.h"
#include "common/course/photos.h"
#include "common/exchange/answer_taker.h"
#include "common/exchange/photos.h"
#include "common/journal/folder.h"
#include "server/command/commands.h"
#include "server/command/csv.h"
#include "server/command/files.h"
#include "server/command/photo_copies.h"
#include "server/command/shed_link.h"
#include "server/door/known_devices.h"
#include "server/http/exchange_client.h"

namespace swardwalk::server {
namespace {

/// What went over besides the records.
struct Photos {
  std::uint64_t sent = 0;
  std::uint64_t received = 0;
  std::vector<std::string> troubles;
};

Result<void> exchangeRecords(ExchangeClient& client, exchange::Asker& asker, Console& console) {
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
    if (!done) return done;
    console.err << asker.tally().sent << " records sent\n" << std::flush;
  }
}

/// Every picture that the shed misses and this side has.
Result<void> sendPhotos(ExchangeClient& client, exchange::PhotoSender& sender) {
  while (const auto part = sender.next()) {
    const auto answer = client.sendPhoto(exchange::writePhotoTarget(part->target), part->bytes);
    if (answer) {
      const auto have = exchange::parsePhotoAnswer(*answer);
      if (!have) return tl::unexpected(have.error());
      sender.taken(*have);
    } else if (answer.error().kind == FailureKind::refused) {
      sender.refused(answer.error().what);
    } else {
      return tl::unexpected(answer.error());
    }
  }
  return {};
}

/// Records first: they are on the shed's disk whatever becomes of the pictures.
Result<void> exchangeOverHttp(exchange::Asker& asker, const CommandLine& line, Console& console,
                              Photos& photos) {
  const auto at = [&](Failure failure) {
    if (failure.where.empty()) failure.where = line.with;
    return tl::unexpected(std::move(failure));
  };
  auto link = linkTo(line);
  if (!link) return at(link.error());
  ExchangeClient client(std::move(link->wire), link->host, link->token);
  const journal::PhotoFolder folder(line.data);
  for (;;) {
    if (auto done = exchangeRecords(client, asker, console); !done) return at(done.error());
    exchange::PhotoSender sender(folder, asker.peerMisses());
    auto done = sendPhotos(client, sender);
    photos.sent += sender.sent();
    photos.troubles.insert(photos.troubles.end(), sender.troubles().begin(),
                           sender.troubles().end());
    if (!done) {
      Failure failure = done.error();
      failure.what = fmt::format("the records are through, but photos are not: {}", failure.what);
      failure.todo = "nothing is lost; the next exchange goes on with them";
      return at(std::move(failure));
    }
    // A shed names as many as fit into an answer; there may be more.
    const bool full = asker.peerMisses().size() == exchange::limits::missingPhotos;
    if (sender.sent() == 0 || !full) return {};
    asker.askAgain();
  }
}

/// Both ways between this journal's pictures and those of the stick.
Result<void> exchangePhotos(const journal::Journal& journal, const CommandLine& line,
                            Photos& photos) {
  journal::PhotoFolder here(line.data);
  journal::PhotoFolder stick = photosBeside(line.with);
  const auto add = [&](const Result<PhotoCopies>& copies, std::uint64_t& count) {
    if (!copies) return false;
    count = copies->copied;
    photos.troubles.insert(photos.troubles.end(), copies->troubles.begin(), copies->troubles.end());
    return true;
  };
  const auto taken = copyPhotos(journal, stick, here);
  if (!add(taken, photos.received)) return tl::unexpected(taken.error());
  const auto given = copyPhotos(journal, here, stick);
  if (!add(given, photos.sent)) return tl::unexpected(given.error());
  return {};
}

/// What could not be read of a file may be all that is left of some records: it is not
/// written over. Gives its new name.
Result<std::string> keepAside(const std::string& file) {
  std::error_code error;
  std::string name = file + ".damaged";
  for (int more = 2; std::filesystem::exists(name, error); ++more) {
    name = fmt::format("{}.damaged-{}", file, more);
  }
  std::filesystem::rename(file, name, error);
  if (!error) return name;
  return fail(FailureKind::io, file,
              "it is damaged and could not be kept aside: " + error.message(),
              "what came whole of it was taken; give it another name, then exchange again");
}

/// A file on a stick: what it brings is read, then everything is written out. Nobody
/// vouches for a file, so origins that are new here wait.
Result<exchange::Tally> exchangeWithFile(journal::Journal& journal, const CommandLine& line,
                                         Console& console, Photos& photos) {
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
    if (!tally.alarms.empty()) {
      return fail(FailureKind::invalid, file, tally.alarms.front(),
                  "this journal does not know its course yet");
    }
    return fail(FailureKind::invalid, file, "neither this journal nor the file knows a course",
                "import a course file first");
  }
  tally.sent = journal.recordCount();
  const auto keptAs = tally.whole ? Result<std::string>() : keepAside(file);
  if (!keptAs) return tl::unexpected(keptAs.error());
  auto given = replaceFile(file, [&](const std::function<Result<void>(std::string_view)>& emit) {
    return exchange::writeAll(journal, console.now_ms(), emit);
  });
  if (!given) return tl::unexpected(given.error());
  if (!keptAs->empty()) tally.alarms.push_back("The damaged file is kept as " + *keptAs);
  if (auto done = exchangePhotos(journal, line, photos); !done) {
    return tl::unexpected(done.error());
  }
  return tally;
}

/// Standard output says what the contract says; of photos, only where there were any.
void print(const CommandLine& line, Console& console, const exchange::Tally& tally,
           const Photos& photos) {
  if (photos.sent + photos.received > 0) {
    console.err << photos.sent << " photos sent, " << photos.received << " photos received\n";
  }
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

/// What the records of this exchange erased takes its pictures along.
Result<void> dropErasedPhotos(const journal::Journal& journal, const CommandLine& line,
                              const std::vector<course::NamedPhoto>& before) {
  const auto now = course::namedPhotos(journal);
  if (!now) return tl::unexpected(now.error());
  journal::PhotoFolder here(line.data);
  course::dropErased(here, before, *now);
  if (!isShedAddress(line.with)) {
    journal::PhotoFolder stick = photosBeside(line.with);
    course::dropErased(stick, before, *now);
  }
  return {};
}

}  // namespace

int runExchange(const CommandLine& line, Console& console) {
  const bool isShed = isShedAddress(line.with);
  course::CourseFold fold;
  auto journal = journal::openFolder(line.data, journal::Missing::make, fold);
  if (!journal) return refuse(console, journal.error());

  const auto named = course::namedPhotos(*journal);
  if (!named) return refuse(console, named.error());
  exchange::Tally tally;
  Photos photos;
  Result<void> done;
  if (isShed) {
    exchange::Asker asker(*journal, exchange::shedName);
    done = exchangeOverHttp(asker, line, console, photos);
    tally = asker.tally();
  } else {
    auto taken = exchangeWithFile(*journal, line, console, photos);
    if (taken) tally = std::move(*taken);
    if (!taken) done = tl::unexpected(taken.error());
  }
  if (isShed || done) print(line, console, tally, photos);
  sayWhoWaits(console, *journal);
  int status = settle(line, console, *journal, tally);
  for (const std::string& trouble : photos.troubles) {
    status = refuse(console, {FailureKind::refused, line.with, trouble, ""});
  }
  if (auto dropped = dropErasedPhotos(*journal, line, *named); !dropped) {
    status = refuse(console, dropped.error());
  }
  if (!done) status = refuse(console, done.error());
  return status;
}

}  // namespace swardwalk::server
