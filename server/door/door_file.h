#pragma once

#include <SQLiteCpp/Exception.h>

#include <functional>
#include <memory>
#include <string>
#include <type_traits>

#include "common/failure.h"
#include "common/journal/sqlite_failure.h"
#include "common/journal/statements.h"

namespace swardwalk::server {

/// The data directory's `door.sqlite`, readable by its owner alone: who may come in. It
/// holds no secret that could be used: codes, tokens and sessions stand in it as digests,
/// passwords as argon2id makes them. It is no part of the journal, of its exchange, its
/// backups or its exports. Use one object from one thread; several may have it open.
class DoorFile {
 public:
  /// Opens the file or makes it; `newer`, `corrupt`, `busy`, `io` in words. The directory
  /// must be there.
  static Result<std::unique_ptr<DoorFile>> open(const std::string& directory);

  /// What a piece of work on the prepared statements gives.
  template <class Work>
  using Given = std::invoke_result_t<const Work&, journal::Statements&>;

  /// Runs `look` and gives what it gives; what SQLite throws becomes a failure.
  template <class Look>
  auto read(const char* doing, const Look& look) -> Result<Given<Look>> {
    try {
      if constexpr (std::is_void_v<Given<Look>>) {
        look(*sql_);
        return {};
      } else {
        return look(*sql_);
      }
    } catch (const SQLite::Exception& problem) {
      return tl::unexpected(journal::failureOf(problem, file_, doing));
    }
  }

  /// The same in one durable transaction, which is undone where it throws.
  template <class Change>
  auto write(const char* doing, const Change& change) -> Result<Given<Change>> {
    return read(doing, [&](journal::Statements& sql) {
      Undo undo(*this);
      if constexpr (std::is_void_v<Given<Change>>) {
        change(sql);
        undo.commit();
      } else {
        auto changed = change(sql);
        undo.commit();
        return changed;
      }
    });
  }

  /// A small fact that one process tells the others, such as where the shed listens.
  Result<void> setFact(const std::string& name, const std::string& value);
  /// Empty where nobody told it.
  Result<std::string> fact(const std::string& name);

 private:
  class Undo {
   public:
    explicit Undo(DoorFile& door);
    ~Undo();
    void commit();

   private:
    DoorFile* door_;
    bool done_ = false;
  };

  explicit DoorFile(std::string file) : file_(std::move(file)) {}
  void prepare();

  std::string file_;
  std::unique_ptr<SQLite::Database> database_;
  std::unique_ptr<journal::Statements> sql_;
};

}  // namespace swardwalk::server
