// What devices and people say around pairing and photos, each reader on the same bytes: what
// one takes is the same after it was written and read again.
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "common/exchange/pairing.h"
#include "common/exchange/photos.h"

namespace {

using namespace swardwalk::exchange;

void question(std::string_view text) {
  const auto first = parsePairingQuestion(text);
  if (!first) return;
  const auto again = parsePairingQuestion(write(*first));
  if (!again || again->code != first->code || again->origin != first->origin ||
      again->device != first->device || again->signature != first->signature) {
    std::abort();
  }
  if (first->device.size() > limits::deviceNameBytes) std::abort();
  static_cast<void>(verifies(*first, "fingerprint"));
}

void answer(std::string_view text) {
  const auto token = parsePairingAnswer(text);
  if (token && parsePairingAnswer(writePairingAnswer(*token)).value() != *token) std::abort();
}

void code(std::string_view text) {
  const auto typed = parseCode(text);
  if (typed && (typed->size() != codeCharacters || parseCode(writtenCode(*typed)) != typed)) {
    std::abort();
  }
}

void card(std::string_view text) {
  const auto first = parsePairingCard(text);
  if (!first) return;
  const auto again = parsePairingCard(write(*first));
  if (!again || again->address != first->address || again->fingerprint != first->fingerprint ||
      again->code != first->code) {
    std::abort();
  }
}

void photo(std::string_view text) {
  if (const auto first = parsePhotoTarget(text)) {
    const auto again = parsePhotoTarget(writePhotoTarget(*first));
    if (!again || again->photo != first->photo || again->from != first->from ||
        again->of != first->of) {
      std::abort();
    }
  }
  if (const auto have = parsePhotoAnswer(text)) {
    if (parsePhotoAnswer(writePhotoAnswer(*have)).value() != *have) std::abort();
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  question(text);
  answer(text);
  code(text);
  card(text);
  photo(text);
  return 0;
}
