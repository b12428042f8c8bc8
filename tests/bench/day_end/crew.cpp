#include "tests/bench/day_end/crew.h"

#include <fmt/format.h>

#include <algorithm>

#include "common/exchange/message.h"
#include "common/journal/digest.h"

namespace swardwalk::bench {

namespace {

constexpr std::size_t lineBytes = 400;
constexpr std::int64_t start_ms = 1'700'000'000'000;
constexpr std::uint64_t recordsOfADay = 40;  ///< of one tablet

constexpr const char* words[] = {"edge",   "loose", "after",  "rain",  "firm",   "near",
                                 "sand",   "left",  "thin",   "green", "bunker", "again",
                                 "shoots", "wet",   "shaded", "track", "bank",   "soft"};

journal::Signer signerOf(std::size_t number) {
  journal::Signer::Seed seed{};
  seed[0] = static_cast<std::uint8_t>(number);
  seed[1] = 9;
  return journal::Signer(seed);
}

}  // namespace

struct Crew::Tablet {
  explicit Tablet(std::size_t which) : signer(signerOf(which + 1)) {}

  journal::Signer signer;
  std::uint64_t number = 0;
  journal::Digest last{};
};

Crew::Crew(std::size_t tablets) : course_(journal::courseIdFor(founder().origin(), nonce)) {
  for (std::size_t i = 0; i < tablets; ++i) {
    tablets_.push_back(std::make_unique<Tablet>(i));
    tablets_.back()->last = journal::genesisDigest(course_);
  }
}

Crew::~Crew() = default;

journal::Signer Crew::founder() { return signerOf(0); }

journal::Draft Crew::sighting(std::size_t tablet) {
  const std::uint64_t number = tablets_[tablet]->number;
  const auto draw = [&](std::uint64_t below) { return random_() % below; };
  std::string text = fmt::format(
      R"({{"geometry":{{"type":"Point","coordinates":[-30.00{:07},40.00{:07}]}},"properties":)"
      R"({{"patch":"N{}","kind":"{}","seen":"2023-{:02}-{:02}T{:02}:{:02}:{:02}Z","green":"North",)"
      R"("length_m":{}.{:02},"width_m":0.{:02},"accuracy_m":0.{:02},"depth_mm":{},"device":"Tablet {}","note":")",
      draw(10'000'000), draw(10'000'000), draw(20'000), draw(3) == 0 ? "washed" : "bare",
      1 + number / recordsOfADay / 28 % 12, 1 + number / recordsOfADay % 28, 6 + draw(10), draw(60),
      draw(60), draw(3), draw(100), 10 + draw(90), 10 + draw(90), 5 + draw(60), tablet);
  // The header of a line has some 50 bytes.
  while (text.size() < lineBytes - 56) text += fmt::format("{} ", words[draw(std::size(words))]);
  journal::Draft draft;
  draft.type = "sighting";
  const std::size_t patch = text.find("\"N") + 1;
  draft.subject = text.substr(patch, text.find('"', patch) - patch);
  draft.body = text + "\"}}";
  return draft;
}

std::vector<journal::Run> Crew::nextOf(std::size_t of, std::size_t records) {
  Tablet& tablet = *tablets_.at(of);
  std::vector<journal::Run> runs;
  while (records > 0) {
    journal::Run run;
    run.origin = tablet.signer.origin();
    run.after = tablet.number;
    run.base = tablet.last;
    const std::size_t count = std::min(records, journal::limits::runRecords);
    records -= count;
    for (std::size_t i = 0; i < count; ++i) {
      journal::Record record;
      record.origin = run.origin;
      record.number = ++tablet.number;
      record.counter = ++counter_;
      if (record.number == 1) {
        record.content.type = "origin";
        record.content.body = fmt::format(
            R"({{"geometry":null,"properties":{{"course":"{}","device":"Tablet {}"}}}})",
            journal::hex(course_), of);
      } else {
        record.content = sighting(of);
      }
      record.content.wall_ms = start_ms + static_cast<std::int64_t>(counter_) * 60'000;
      record.bodyDigest = journal::blake2b(record.content.body);
      record.digest = tablet.last = journal::recordDigest(tablet.last, record);
      run.records.push_back(std::move(record));
    }
    run.head = tablet.last;
    run.signature = tablet.signer.signHead(course_, {run.origin, tablet.number, run.head});
    runs.push_back(std::move(run));
  }
  return runs;
}

std::vector<journal::Run> Crew::next(std::size_t recordsOfEach) {
  std::vector<journal::Run> all;
  for (std::size_t i = 0; i < size(); ++i)
    for (journal::Run& run : nextOf(i, recordsOfEach)) all.push_back(std::move(run));
  return all;
}

}  // namespace swardwalk::bench
