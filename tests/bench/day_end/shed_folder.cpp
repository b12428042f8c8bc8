#include "tests/bench/day_end/shed_folder.h"

#include <filesystem>
#include <stdexcept>

#include "common/exchange/message.h"
#include "common/exchange/taking.h"
#include "common/journal/folder.h"

namespace swardwalk::bench {

ShedFolder::ShedFolder(std::string folder) : folder_(std::move(folder)) {
  std::filesystem::create_directories(folder_);
  if (!Crew::founder().write(folder_ + "/origin.key")) throw std::runtime_error("no key written");
  auto journal = journal::openFolder(folder_, journal::Missing::make, fold_);
  if (!journal) throw std::runtime_error(journal.error().text());
  journal_.emplace(std::move(*journal));
  if (!journal_->found(Crew::nonce, 1'700'000'000'000, "Shed"))
    throw std::runtime_error("no course founded");
}

void ShedFolder::take(const std::vector<journal::Run>& runs) {
  std::vector<journal::Run> message;
  std::size_t records = 0;
  const auto give = [&] {
    const auto taken = exchange::takeRuns(*journal_, message, journal::Vouching::accepted);
    if (!taken || taken->received != records) throw std::runtime_error("records were not taken");
    message.clear();
    records = 0;
  };
  for (const journal::Run& run : runs) {
    if (records + run.records.size() > exchange::limits::messageRecords) give();
    message.push_back(run);
    records += run.records.size();
  }
  if (!message.empty()) give();
}

}  // namespace swardwalk::bench
