#include "server/door/secret.h"

#include "common/journal/digest.h"
#include "common/journal/folder.h"

namespace swardwalk::server {

std::string newSecret() {
  std::array<std::uint8_t, 32> bytes{};
  journal::systemRandom(bytes.data(), bytes.size());
  return journal::hex(bytes);
}

journal::Digest digestOf(std::string_view secret) {
  return journal::blake2b("swardwalk secret 1\n" + std::string(secret));
}

}  // namespace swardwalk::server
