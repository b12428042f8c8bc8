#pragma once

#include <gtest/gtest.h>

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "common/exchange/exchange.h"
#include "common/journal/fold.h"
#include "common/journal/journal.h"

namespace swardwalk::exchange::testing {

/// A folder that is gone after the test.
class Folder {
 public:
  Folder();
  ~Folder();
  std::string operator/(const std::string& name) const { return (path_ / name).string(); }

 private:
  std::filesystem::path path_;
};

/// The smallest state that tells sets of records apart: type, subject and body of each.
class ListFold : public journal::Fold {
 public:
  int version() const override { return 1; }
  void makeTables(SQLite::Database& database) override;
  std::vector<journal::OriginKey> fold(SQLite::Database& database,
                                       std::span<const journal::FoldInput> records) override;
  void erase(SQLite::Database& database, const journal::FoldInput& record) override;
  void writeState(SQLite::Database& database,
                  const std::function<void(std::string_view)>& write) const override;
};

/// Somebody with a journal: a tablet or the shed.
class Party {
 public:
  /// `key` makes the origin; parties of the same key are copies of one device.
  Party(const Folder& folder, std::string name, std::uint8_t key);

  journal::Journal& journal() { return *journal_; }
  void found();
  /// Writes `count` records, each in a transaction of its own unless `together`.
  void write(int count, const std::string& what = "note", bool together = false);
  void close() { journal_.reset(); }
  void open();
  /// Another device with a copy of this one's file and key.
  Party copy(const std::string& name);
  /// What the caller does when its key writes elsewhere too.
  void renew(std::uint8_t key);

  std::string state();
  std::size_t records() { return journal().recordCount(); }
  const std::string& name() const { return name_; }

 private:
  const Folder* folder_;
  std::string name_;
  std::uint8_t key_;
  std::unique_ptr<ListFold> fold_ = std::make_unique<ListFold>();
  std::unique_ptr<journal::Journal> journal_;
  int written_ = 0;
};

/// What a whole exchange came to, and what went over the wire.
struct Meeting {
  Tally tally;
  unsigned roundTrips = 0;
  std::size_t wireBytes = 0;       ///< compressed bodies and usual HTTP headers
  std::vector<std::string> lines;  ///< questions and answers as text, in turn
  bool answererForked = false;
};

inline constexpr std::int64_t now_ms = 1'776'000'000'000;

/// Plays an exchange over texts, the way the network does.
Result<Meeting> meet(Party& asker, Party& answerer,
                     journal::Vouching vouching = journal::Vouching::accepted);
/// The same, where the test goes on only if it works.
Meeting exchanged(Party& asker, Party& answerer);

/// Heads, vector and folded state are the same.
void expectSame(Party& one, Party& other);
/// Every chain, signature and the state hold.
void expectWhole(Party& party);

/// Bytes of the request and response around two bodies, as the project's own client and
/// server send them.
std::size_t httpBytes(std::size_t questionBytes, std::size_t answerBytes);

}  // namespace swardwalk::exchange::testing
