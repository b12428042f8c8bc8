#include "tests/common/journal/devices.h"

#include <cstdlib>

namespace swardwalk::journal {

TempFolder::TempFolder() {
  std::string name = (std::filesystem::temp_directory_path() / "swardwalk.XXXXXX").string();
  if (::mkdtemp(name.data()) == nullptr) throw std::runtime_error("no temporary directory");
  path_ = name;
}

TempFolder::~TempFolder() {
  std::error_code ignored;
  std::filesystem::remove_all(path_, ignored);
}

Signer signerOf(std::uint8_t number) {
  Signer::Seed seed;
  seed.fill(number);
  return Signer(seed);
}

Draft noteOn(const std::string& subject, const std::string& body) {
  Draft draft;
  draft.type = "note";
  draft.subject = subject;
  draft.body = body;
  draft.wall_ms = 1'806'500'000'000;
  return draft;
}

Device::Device(const std::string& file, std::uint8_t key, JournalOptions options) {
  options.file = file;
  if (options.deviceName.empty()) options.deviceName = "tablet " + std::to_string(key);
  auto opened = Journal::open(options, signerOf(key), fold_);
  if (!opened) throw std::runtime_error(opened.error().text());
  journal_ = std::move(*opened);
}

void Device::found() {
  const auto founded = journal_->found(testNonce, 1'806'400'000'000, "shed");
  ASSERT_TRUE(founded) << founded.error().text();
}

void Device::adoptFrom(Device& other) {
  const auto adopted = journal_->adopt(*other.journal().course());
  ASSERT_TRUE(adopted) << adopted.error().text();
}

Record Device::write(const Draft& draft) {
  auto written = journal_->append({&draft, 1});
  if (!written) throw std::runtime_error(written.error().text());
  return last_ = written->at(0);
}

Record Device::write(const std::string& subject, const std::string& body) {
  return write(noteOn(subject, body));
}

std::vector<Run> runsOf(const Journal& journal, const Head& head, std::uint64_t after) {
  std::vector<Run> runs;
  while (after < head.number) {
    auto run = journal.run(head, after);
    if (!run) throw std::runtime_error(run.error().text());
    after += run->records.size();
    runs.push_back(std::move(*run));
  }
  return runs;
}

std::vector<Run> allRuns(const Journal& journal) {
  std::vector<Run> all;
  for (const Head& head : journal.heads())
    for (Run& run : runsOf(journal, head)) all.push_back(std::move(run));
  return all;
}

void expectTaken(Journal& journal, std::span<const Run> runs, TakeStatus status,
                 Vouching vouching) {
  const auto outcomes = journal.take(runs, vouching);
  ASSERT_TRUE(outcomes) << outcomes.error().text();
  ASSERT_EQ(outcomes->size(), runs.size());
  for (const TakeOutcome& outcome : *outcomes) EXPECT_EQ(outcome.status, status);
}

}  // namespace swardwalk::journal
