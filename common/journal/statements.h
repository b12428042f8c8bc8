#pragma once

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>

#include <array>
#include <cassert>
#include <cstring>
#include <memory>
#include <string>
#include <string_view>
#include <unordered_map>

namespace swardwalk::journal {

/// A prepared statement in use: bound from 1, reset at the end of the scope. Values that
/// are bound must live until then.
class Query {
 public:
  Query(SQLite::Statement& statement, bool& borrowed)
      : statement_(&statement), borrowed_(&borrowed) {}
  Query(const Query&) = delete;
  Query& operator=(const Query&) = delete;
  ~Query() {
    // Its result repeats the error that was thrown already.
    (void)statement_->tryReset();
    *borrowed_ = false;
  }

  Query& bind(std::int64_t value) {
    statement_->bind(++bound_, value);
    return *this;
  }
  Query& bind(std::uint64_t value) { return bind(static_cast<std::int64_t>(value)); }
  Query& bindNothing() {
    statement_->bind(++bound_);
    return *this;
  }
  Query& bindText(const std::string& value) {
    statement_->bindNoCopy(++bound_, value);
    return *this;
  }
  Query& bindBlob(std::string_view value) {
    // A null pointer would bind NULL instead of no bytes.
    statement_->bindNoCopy(++bound_, value.empty() ? "" : static_cast<const void*>(value.data()),
                           static_cast<int>(value.size()));
    return *this;
  }
  template <std::size_t Size>
  Query& bindBlob(const std::array<std::uint8_t, Size>& value) {
    return bindBlob({reinterpret_cast<const char*>(value.data()), Size});
  }

  /// Steps to the next row, if there is one.
  bool next() { return statement_->executeStep(); }
  void run() { statement_->exec(); }

  std::int64_t integer(int column) const { return statement_->getColumn(column).getInt64(); }
  std::uint64_t natural(int column) const { return static_cast<std::uint64_t>(integer(column)); }
  bool isNothing(int column) const { return statement_->isColumnNull(column); }
  std::string bytes(int column) const {
    const SQLite::Column value = statement_->getColumn(column);
    const void* start = value.getBlob();
    const auto size = static_cast<std::size_t>(value.getBytes());
    return size == 0 ? std::string() : std::string(static_cast<const char*>(start), size);
  }
  /// All zero where the stored value has another length: no digest then fits it.
  template <std::size_t Size>
  std::array<std::uint8_t, Size> array(int column) const {
    std::array<std::uint8_t, Size> result{};
    const SQLite::Column value = statement_->getColumn(column);
    const void* start = value.getBlob();
    if (value.getBytes() == static_cast<int>(Size)) std::memcpy(result.data(), start, Size);
    return result;
  }

 private:
  SQLite::Statement* statement_;
  bool* borrowed_;
  int bound_ = 0;
};

/// Prepares every statement once. Use from the connection's thread.
class Statements {
 public:
  explicit Statements(SQLite::Database& database) : database_(&database) {}

  /// `sql` must be a literal: it is known again by its address. A statement in use must
  /// not be asked for again.
  Query operator()(const char* sql) {
    Kept& kept = kept_[sql];
    if (!kept.statement) kept.statement = std::make_unique<SQLite::Statement>(*database_, sql);
    assert(!kept.borrowed);
    kept.borrowed = true;
    return Query(*kept.statement, kept.borrowed);
  }

 private:
  struct Kept {
    std::unique_ptr<SQLite::Statement> statement;
    bool borrowed = false;
  };
  SQLite::Database* database_;
  std::unordered_map<const char*, Kept> kept_;
};

}  // namespace swardwalk::journal
