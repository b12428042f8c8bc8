// A connection's bytes, request after request as a session reads them: each byte is taken
// once, the limits hold, and in pieces it comes to the same.
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>

#include "server/http/request_reader.h"

namespace {

using namespace swardwalk::server;

/// Everything that was read of the connection, as text.
std::string readIn(std::string_view bytes, std::size_t piece) {
  const Limits limits;
  constexpr std::size_t mostBody = 64;
  std::string story;
  std::string waiting;
  RequestReader reader(limits);
  bool inBody = false;
  while (true) {
    std::size_t used = 0;
    const RequestReader::Step step = reader.take(waiting, used);
    if (used > waiting.size()) std::abort();
    waiting.erase(0, used);
    switch (step) {
      case RequestReader::Step::needsMore:
        // What is held back of a body is bounded, whatever stands around its chunks.
        if (inBody && waiting.size() > limits.headerBytes) std::abort();
        if (bytes.empty()) return story + "more";
        waiting += bytes.substr(0, piece);
        bytes.remove_prefix(std::min(piece, bytes.size()));
        break;
      case RequestReader::Step::header:
        story += "header " + reader.request().target + "\n";
        static_cast<void>(reader.declaredBytes());
        static_cast<void>(reader.waitsForContinue());
        if (reader.declaredBytes() > mostBody) return story + "too long";
        reader.limitBody(mostBody);
        inBody = true;
        break;
      case RequestReader::Step::broken:
        if (reader.refusal().body.empty()) std::abort();
        return story + "broken";
      case RequestReader::Step::whole:
        if (reader.request().body.size() > mostBody) std::abort();
        // A second request needs a fresh reader; one is enough here.
        return story + "whole " + reader.request().body;
    }
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view bytes(reinterpret_cast<const char*>(data), size);
  const std::string whole = readIn(bytes, size + 1);
  const std::string pieces = readIn(bytes, 5);
  // What breaks a header may be seen only once its end is there: a reader of pieces then
  // still waits, and its limits and times end the wait.
  const bool waits = whole.ends_with("more") || pieces.ends_with("more");
  const bool broken = whole.ends_with("broken") || pieces.ends_with("broken");
  if (whole != pieces && !(waits && broken)) std::abort();
  return 0;
}
