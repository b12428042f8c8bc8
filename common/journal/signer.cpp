#include "common/journal/signer.h"

#include <fmt/core.h>
#include <sodium.h>

#include <cerrno>
#include <cstring>
#include <fstream>

#include "common/journal/durable_file.h"
#include "common/journal/head_input.h"
#include "common/journal/sodium_ready.h"

namespace swardwalk::journal {

namespace {

constexpr std::string_view firstLine = "swardwalk origin key 1\n";

}  // namespace

Signer::Signer(const Seed& seed) : seed_(seed) {
  sodiumReady();
  crypto_sign_seed_keypair(origin_.data(), secret_.data(), seed_.data());
}

Result<Signer> Signer::read(const std::string& file) {
  std::ifstream in(file, std::ios::binary);
  if (!in) {
    if (errno == ENOENT)
      return fail(FailureKind::notFound, file, "there is no key", "make one, or restore the file");
    return fail(FailureKind::io, file,
                fmt::format("the key cannot be read: {}", std::strerror(errno)),
                "check who may read the file");
  }
  std::string text(256, '\0');
  in.read(text.data(), static_cast<std::streamsize>(text.size()));
  text.resize(static_cast<std::size_t>(in.gcount()));
  Seed seed;
  const std::size_t size = firstLine.size() + 2 * seed.size() + 1;
  if (text.size() != size || !text.starts_with(firstLine) || text.back() != '\n' ||
      !parseHex(std::string_view(text).substr(firstLine.size(), 2 * seed.size()), seed.data(),
                seed.size()))
    return fail(FailureKind::corrupt, file, "this is not an origin's key",
                "move the file away: the journal then writes on under a new key");
  return Signer(seed);
}

std::string Signer::text() const { return std::string(firstLine) + hex(seed_) + "\n"; }

Result<void> Signer::write(const std::string& file) const { return writeNewDurably(file, text()); }

Result<void> Signer::replace(const std::string& file) const { return replaceDurably(file, text()); }

Signature Signer::signHead(const CourseId& course, const Head& head) const {
  return signWords(headInput(course, head));
}

Signature Signer::signWords(std::string_view words) const {
  Signature signature;
  crypto_sign_detached(signature.data(), nullptr,
                       reinterpret_cast<const unsigned char*>(words.data()), words.size(),
                       secret_.data());
  return signature;
}

bool wordsVerify(const OriginKey& origin, std::string_view words, const Signature& signature) {
  sodiumReady();
  return crypto_sign_verify_detached(signature.data(),
                                     reinterpret_cast<const unsigned char*>(words.data()),
                                     words.size(), origin.data()) == 0;
}

}  // namespace swardwalk::journal
