#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "common/failure.h"

namespace swardwalk::exchange {

/// Zstandard (RFC 8878) with a window of at most 1 MiB, so that memory stays bounded.
std::string compress(std::string_view bytes);

/// Refuses more than `maxBytes` of output, a larger window, and damaged or cut input.
Result<std::string> decompress(std::string_view bytes, std::size_t maxBytes);

/// The same piece by piece, so that what came before a cut is there (X1). Use from one
/// thread.
class Decompressor {
 public:
  explicit Decompressor(std::size_t maxBytes);
  Decompressor(Decompressor&&) noexcept;
  Decompressor& operator=(Decompressor&&) noexcept;
  ~Decompressor();

  /// What the next bytes give. Fails with `invalid` over the limit and `corrupt` where
  /// the input is damaged; what was given before is good.
  Result<std::string> take(std::string_view bytes);
  /// Is the frame whole? Without it the input was cut.
  bool ended() const;

 private:
  struct Inner;
  std::unique_ptr<Inner> inner_;
};

}  // namespace swardwalk::exchange
