#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

#include "common/exchange/compression.h"
#include "common/exchange/exchange.h"

namespace swardwalk::exchange {

/// Feeds one compressed answer to its asker as it comes over the network: every run that
/// is whole is on disk before the next bytes are read, so that a cut loses nothing that
/// arrived (X1). `asker` must outlive this. Use from one thread, the journal's.
class AnswerTaker {
 public:
  explicit AnswerTaker(Asker& asker);

  /// The next bytes; `wall_ms` is this device's clock as they came. Fails with `corrupt`
  /// where they are damaged, with `invalid` where they break the protocol, and as
  /// `Asker::take` does; what came before is kept.
  Result<void> take(std::string_view compressed, std::int64_t wall_ms);

  /// Nothing more comes. Fails with `io` where the answer has no end: it was cut.
  Result<void> finish();

  const std::optional<Hello>& hello() const { return reader_.hello(); }

 private:
  Asker* asker_;
  Decompressor decompressor_;
  MessageReader reader_;
  bool greeted_ = false;
};

}  // namespace swardwalk::exchange
