#include "common/exchange/answer_taker.h"

namespace swardwalk::exchange {

AnswerTaker::AnswerTaker(Asker& asker) : asker_(&asker), decompressor_(limits::messageBytes) {}

Result<void> AnswerTaker::take(std::string_view compressed, std::int64_t wall_ms) {
  const auto lines = decompressor_.take(compressed);
  if (!lines) return tl::unexpected(lines.error());
  auto read = reader_.take(*lines);
  if (reader_.hello() && !greeted_) {
    greeted_ = true;
    if (auto taken = asker_->take(*reader_.hello(), wall_ms); !taken) return taken;
  }
  const auto runs = reader_.takeRuns();
  if (!runs.empty()) {
    if (auto taken = asker_->take(runs); !taken) return taken;
  }
  return read;
}

Result<void> AnswerTaker::finish() {
  if (!reader_.ended()) {
    return fail(FailureKind::io, "", "the exchange was cut, the answer has no end",
                "what arrived whole is kept; exchange again");
  }
  return asker_->finish();
}

}  // namespace swardwalk::exchange
