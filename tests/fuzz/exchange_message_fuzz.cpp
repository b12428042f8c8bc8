// A whole message, in pieces as a network gives them: the pieces must not matter, the limits
// hold, and what was read is written as a message that reads the same again. The bytes are
// tried compressed, too.
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "common/exchange/compression.h"
#include "common/exchange/message.h"

namespace {

using namespace swardwalk;

/// How far a reader came.
struct Came {
  bool good = true;
  bool ended = false;
  std::string runs;
};

Came readIn(std::string_view bytes, std::size_t piece, exchange::Bounds bounds) {
  exchange::MessageReader reader(bounds);
  Came came;
  while (!bytes.empty() && came.good) {
    came.good = reader.take(bytes.substr(0, piece)).has_value();
    bytes.remove_prefix(std::min(piece, bytes.size()));
  }
  came.ended = reader.ended();
  for (const journal::Run& run : reader.takeRuns()) {
    if (run.records.empty() || run.records.size() > journal::limits::runRecords) std::abort();
    came.runs += exchange::writeRun(run);
  }
  return came;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view bytes(reinterpret_cast<const char*>(data), size);
  for (const auto bounds : {exchange::Bounds::message, exchange::Bounds::file}) {
    const Came whole = readIn(bytes, size + 1, bounds);
    const Came inPieces = readIn(bytes, 7, bounds);
    if (whole.runs != inPieces.runs || whole.ended != inPieces.ended) std::abort();
    if (whole.good != inPieces.good) std::abort();
  }
  if (const auto message = exchange::readMessage(bytes)) {
    const std::string written = exchange::write(*message);
    const auto again = exchange::readMessage(written);
    if (!again || exchange::write(*again) != written) std::abort();
  }
  static_cast<void>(exchange::decompress(bytes, 1 << 16));
  return 0;
}
