#pragma once

#include <gtest/gtest.h>

#include <filesystem>
#include <string>
#include <vector>

#include "common/journal/journal.h"
#include "tests/common/journal/tally_fold.h"

namespace swardwalk::journal {

/// A directory of its own, gone at the end of the test.
class TempFolder {
 public:
  TempFolder();
  ~TempFolder();
  TempFolder(const TempFolder&) = delete;
  TempFolder& operator=(const TempFolder&) = delete;

  const std::string& path() const { return path_; }
  std::string file(const std::string& name) const { return path_ + "/" + name; }

 private:
  std::string path_;
};

/// The key with this number: the seed is 32 times that byte.
Signer signerOf(std::uint8_t number);

/// A nonce for founding.
inline constexpr std::array<std::uint8_t, 16> testNonce{1, 2, 3, 4, 5, 6, 7, 8};

Draft noteOn(const std::string& subject, const std::string& body);

/// A journal with its fold, so that both live together. Fails the test where it can't open.
class Device {
 public:
  Device(const std::string& file, std::uint8_t key, JournalOptions options = {});

  Journal& journal() { return *journal_; }
  const Journal& journal() const { return *journal_; }
  std::string state() { return fold_.stateText(journal_->database()); }
  TallyFold& fold() { return fold_; }

  void found();
  void adoptFrom(Device& other);
  /// Appends one record and gives it.
  Record write(const std::string& subject, const std::string& body);
  Record write(const Draft& draft);
  const Record& last() const { return last_; }

 private:
  TallyFold fold_;
  std::optional<Journal> journal_;
  Record last_;
};

/// All runs of all branches, as a peer that lacks everything is given them.
std::vector<Run> allRuns(const Journal& journal);
/// The runs of one branch.
std::vector<Run> runsOf(const Journal& journal, const Head& head, std::uint64_t after = 0);

/// Takes runs and expects each to come to `status`.
void expectTaken(Journal& journal, std::span<const Run> runs, TakeStatus status,
                 Vouching vouching = Vouching::accepted);

}  // namespace swardwalk::journal
