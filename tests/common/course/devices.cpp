#include "tests/common/course/devices.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <array>
#include <boost/json.hpp>
#include <cmath>
#include <filesystem>

#include "common/course/json.h"
#include "common/journal/signer.h"

namespace swardwalk::course {

namespace {

journal::Signer signerOf(std::uint8_t key) {
  journal::Signer::Seed seed;
  seed.fill(key);
  return journal::Signer(seed);
}

journal::Journal open(const std::string& file, std::uint8_t key, CourseFold& fold) {
  journal::JournalOptions options;
  options.file = file;
  options.durability = journal::Durability::off;
  auto journal = journal::Journal::open(options, signerOf(key), fold);
  if (!journal) throw std::runtime_error(journal.error().text());
  return std::move(*journal);
}

std::string place(double east_m, double north_m) {
  // Metres in a degree at 52 N on the WGS84 ellipsoid, good to a millimetre in 50 m.
  return fmt::format("[{:.9f},{:.9f}]", 5.0 + east_m / 68'677.0, 52.0 + north_m / 111'267.0);
}

}  // namespace

TempFolder::TempFolder() {
  std::string pattern = (std::filesystem::temp_directory_path() / "swardwalk-XXXXXX").string();
  if (mkdtemp(pattern.data()) == nullptr) throw std::runtime_error("no temporary folder");
  path_ = pattern;
}

TempFolder::~TempFolder() {
  std::error_code ignored;  // a leftover folder in the temporary one harms nobody
  std::filesystem::remove_all(path_, ignored);
}

Device::Device(std::uint8_t key, const Device* founder, CourseFold fold)
    : key_(key), fold_(std::make_unique<CourseFold>(fold)) {
  journal_.emplace(open(folder_.file("journal.sqlite"), key, *fold_));
  const auto begun = founder == nullptr ? journal_->found({1, 2, 3}, wall_ms_, "Shed")
                                        : journal_->adopt(*founder->journal().course());
  if (!begun) throw std::runtime_error(begun.error().text());
}

void Device::reopen(CourseFold fold) {
  journal_.reset();
  fold_ = std::make_unique<CourseFold>(fold);
  journal_.emplace(open(folder_.file("journal.sqlite"), key_, *fold_));
}

Recorder Device::recorder(const std::string& author) {
  return Recorder(*journal_, Pen{{}, author, author.empty() ? "" : "Tablet a"},
                  [this] { return ++wall_ms_; });
}

journal::Record Device::write(std::string_view role, std::string_view properties,
                              std::string_view geometry) {
  JsonReader reader;
  const std::string text =
      fmt::format("{{\"geometry\": {}, \"properties\": {}}}", geometry, properties);
  const auto body = reader.read(text);
  if (!body) throw std::runtime_error(body.error().text() + " in " + text);
  auto record = recorder().feature(role, (*body)->as_object());
  if (!record) throw std::runtime_error(record.error().text() + " in " + text);
  return *record;
}

journal::Record Device::writeRaw(const std::string& type, const std::string& body, int version,
                                 const std::string& subject) {
  journal::Draft draft;
  draft.type = type;
  draft.version = static_cast<std::uint16_t>(version);
  draft.subject = subject;
  draft.body = body;
  draft.wall_ms = ++wall_ms_;
  const auto records = journal_->append({&draft, 1});
  if (!records) throw std::runtime_error(records.error().text());
  return records->back();
}

std::string Device::stateText() { return fold_->stateText(journal_->database()); }

CourseState Device::state(std::string_view until) {
  auto state = readState(*journal_, at(until));
  if (!state) throw std::runtime_error(state.error().text());
  return std::move(*state);
}

void Device::takeAll(const Device& other) {
  const auto runs = shortRuns(other.journal());
  const auto outcomes = journal_->take(runs, journal::Vouching::accepted);
  if (!outcomes) throw std::runtime_error(outcomes.error().text());
  for (const auto& outcome : *outcomes) {
    EXPECT_TRUE(outcome.status == journal::TakeStatus::taken ||
                outcome.status == journal::TakeStatus::known);
  }
}

std::vector<journal::Run> shortRuns(const journal::Journal& journal) {
  std::vector<journal::Run> runs;
  for (const journal::Head& head : journal.heads()) {
    std::uint64_t after = 0;
    for (std::uint64_t number = 1; number <= head.number; ++number) {
      // A run ends where its origin signed, which is not after every record.
      const auto run = journal.run({head.origin, number, *journal.digestAt(head, number)}, after);
      if (!run || run->records.empty()) continue;
      after = number;
      runs.push_back(*run);
    }
  }
  return runs;
}

measure::Instant at(std::string_view time) {
  const auto instant = measure::parseInstant(time);
  if (!instant) throw std::runtime_error(instant.error().text());
  return *instant;
}

std::string square(double east_m, double north_m, double size_m) {
  const std::array corners{place(east_m, north_m), place(east_m + size_m, north_m),
                           place(east_m + size_m, north_m + size_m),
                           place(east_m, north_m + size_m), place(east_m, north_m)};
  return fmt::format("{{\"type\": \"Polygon\", \"coordinates\": [[{}]]}}", fmt::join(corners, ","));
}

std::string point(double east_m, double north_m) {
  return fmt::format("{{\"type\": \"Point\", \"coordinates\": {}}}", place(east_m, north_m));
}

}  // namespace swardwalk::course
