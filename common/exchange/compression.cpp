#include "common/exchange/compression.h"

#include <fmt/format.h>
#include <zstd.h>

#include <cassert>
#include <new>

namespace swardwalk::exchange {
namespace {

constexpr int windowLog = 20;  // 1 MiB
/// A word without records: the slowest search is over in no time, and every byte counts.
constexpr std::size_t tinyBytes = 1024;
constexpr int tinyLevel = 19;
/// What one day brings is searched well: over in milliseconds, near the best ratio.
constexpr int dayLevel = 9;
/// A longer message is one of many, and somebody waits for all of them: some 100 MB a second
/// on a small machine for a sixth more bytes (SPEED.md).
constexpr std::size_t longBytes = 524'288;
constexpr int longLevel = 3;

struct FreeCompressor {
  void operator()(ZSTD_CCtx* context) const { ZSTD_freeCCtx(context); }
};
struct FreeDecompressor {
  void operator()(ZSTD_DCtx* context) const { ZSTD_freeDCtx(context); }
};

void set(ZSTD_CCtx* context, ZSTD_cParameter parameter, int value) {
  [[maybe_unused]] const std::size_t code = ZSTD_CCtx_setParameter(context, parameter, value);
  assert(!ZSTD_isError(code));
}

int levelFor(std::size_t bytes) {
  if (bytes < tinyBytes) return tinyLevel;
  return bytes < longBytes ? dayLevel : longLevel;
}

}  // namespace

std::string compress(std::string_view bytes) {
  const std::unique_ptr<ZSTD_CCtx, FreeCompressor> context(ZSTD_createCCtx());
  if (!context) throw std::bad_alloc();
  set(context.get(), ZSTD_c_compressionLevel, levelFor(bytes.size()));
  set(context.get(), ZSTD_c_windowLog, windowLog);
  std::string out(ZSTD_compressBound(bytes.size()), '\0');
  const std::size_t size =
      ZSTD_compress2(context.get(), out.data(), out.size(), bytes.data(), bytes.size());
  // With room for the bound, only a lack of memory is left to fail.
  if (ZSTD_isError(size)) throw std::bad_alloc();
  out.resize(size);
  return out;
}

struct Decompressor::Inner {
  std::unique_ptr<ZSTD_DCtx, FreeDecompressor> context{ZSTD_createDCtx()};
  std::size_t left = 0;
  bool ended = false;
};

Decompressor::Decompressor(std::size_t maxBytes) : inner_(std::make_unique<Inner>()) {
  if (!inner_->context) throw std::bad_alloc();
  inner_->left = maxBytes;
  [[maybe_unused]] const std::size_t code =
      ZSTD_DCtx_setParameter(inner_->context.get(), ZSTD_d_windowLogMax, windowLog);
  assert(!ZSTD_isError(code));
}

Decompressor::Decompressor(Decompressor&&) noexcept = default;
Decompressor& Decompressor::operator=(Decompressor&&) noexcept = default;
Decompressor::~Decompressor() = default;

bool Decompressor::ended() const { return inner_->ended; }

Result<std::string> Decompressor::take(std::string_view bytes) {
  std::string given;
  std::string chunk(ZSTD_DStreamOutSize(), '\0');
  ZSTD_inBuffer in{bytes.data(), bytes.size(), 0};
  bool full = true;  // the last chunk was filled: the context may hold more
  while (in.pos < in.size || (full && !inner_->ended)) {
    if (inner_->ended) {
      return fail(FailureKind::corrupt, "compressed message", "bytes follow its end",
                  "start the exchange again");
    }
    ZSTD_outBuffer out{chunk.data(), chunk.size(), 0};
    const std::size_t code = ZSTD_decompressStream(inner_->context.get(), &out, &in);
    if (ZSTD_isError(code)) {
      return fail(FailureKind::corrupt, "compressed message",
                  fmt::format("it cannot be decompressed ({})", ZSTD_getErrorName(code)),
                  "start the exchange again");
    }
    if (out.pos > inner_->left) {
      return fail(FailureKind::invalid, "compressed message", "it grows beyond the limit",
                  "send less in one message");
    }
    inner_->left -= out.pos;
    given.append(chunk, 0, out.pos);
    inner_->ended = code == 0;
    full = out.pos == out.size;
  }
  return given;
}

Result<std::string> decompress(std::string_view bytes, std::size_t maxBytes) {
  Decompressor decompressor(maxBytes);
  auto given = decompressor.take(bytes);
  if (given && !decompressor.ended()) {
    return fail(FailureKind::corrupt, "compressed message", "it was cut",
                "start the exchange again");
  }
  return given;
}

}  // namespace swardwalk::exchange
