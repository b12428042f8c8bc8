#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>

#include "common/failure.h"
#include "common/journal/record.h"

namespace swardwalk::journal {

/// An origin's private key (Ed25519, RFC 8032). It lies in a file of its own beside
/// the journal (mode 0600), never inside it, so that a copied journal cannot write
/// in its origin's name (X5). Immutable; safe to share between threads.
class Signer {
 public:
  using Seed = std::array<std::uint8_t, 32>;

  /// `seed` must come from a cryptographic source of randomness.
  explicit Signer(const Seed& seed);

  /// Reads the key file; `notFound` where there is none, `corrupt` where it is none.
  static Result<Signer> read(const std::string& file);
  /// Writes the key durably to a file that must not exist yet.
  Result<void> write(const std::string& file) const;
  /// The same, in the place of the key that is there.
  Result<void> replace(const std::string& file) const;

  const OriginKey& origin() const { return origin_; }
  Signature signHead(const CourseId& course, const Head& head) const;
  /// Signs words that are said to a peer. `words` begin with what they are about, never
  /// with what a head's signature covers (FORMAT.md), so that neither passes for the other.
  Signature signWords(std::string_view words) const;

 private:
  std::string text() const;

  Seed seed_;
  OriginKey origin_;
  std::array<std::uint8_t, 64> secret_;
};

/// Did the origin itself sign these words?
bool wordsVerify(const OriginKey& origin, std::string_view words, const Signature& signature);

}  // namespace swardwalk::journal
