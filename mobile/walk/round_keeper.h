#pragma once

#include <optional>
#include <string>

#include "common/course/features.h"
#include "mobile/app/store.h"

namespace swardwalk::mobile {

/// The round that is being walked. It is kept as a note of the journal while it lasts,
/// so that a tablet that dies goes on with it, and becomes a record when it is finished.
/// Use from the GUI thread.
class RoundKeeper {
 public:
  explicit RoundKeeper(Store& store);

  bool running() const { return round_.has_value(); }
  const std::optional<course::Round>& round() const { return round_; }

  Result<void> start(const std::string& green);
  /// Adds a place where the walker is; near ones are left out.
  void walkedTo(geo::Position position);
  Result<journal::Record> finish();

 private:
  Result<void> keep();

  Store* store_;
  std::optional<course::Round> round_;
  std::size_t kept_ = 0;  ///< places of the track that the note holds
};

}  // namespace swardwalk::mobile
