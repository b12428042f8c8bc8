#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "common/journal/lost_bodies.h"
#include "common/journal/store.h"

namespace swardwalk::journal {

/// Gives records that were rescued without their body that body back, when a run that is
/// taken brings it. Inside a write transaction; SQLite::Exception leaves these functions.
class Restoring {
 public:
  explicit Restoring(Store& store);

  /// A record of a proven run that is here already, at `number` of `chain`.
  void see(std::int64_t chain, std::uint64_t number, const Record& record);
  /// Writes what was seen. Gives whether bodies came back: the state must be made anew then,
  /// because it was folded without them.
  bool finish();

 private:
  struct Body {
    std::int64_t chain = 0;
    std::uint64_t number = 0;
    std::string text;
  };

  Store* store_;
  std::vector<LostBody> lost_;
  std::vector<Body> found_;
  bool changed_ = false;
};

}  // namespace swardwalk::journal
