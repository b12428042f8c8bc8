#include "common/exchange/compression.h"

#include <gtest/gtest.h>
#include <zstd.h>

#include <random>

namespace swardwalk::exchange {
namespace {

/// Lines that compress about like records do.
std::string lines(std::size_t bytes) {
  std::mt19937 random(7);
  std::string text;
  while (text.size() < bytes) text += "{\"area_m2\":" + std::to_string(random() % 100000) + "}\n";
  text.resize(bytes);
  return text;
}

TEST(Compression, GivesBackWhatWentIn) {
  for (const std::size_t size : {0, 1, 300, 16 * 1024, 200'000, 5'000'000}) {
    const std::string text = lines(size);
    const auto back = decompress(compress(text), size);
    ASSERT_TRUE(back) << back.error().text();
    EXPECT_EQ(*back, text);
  }
}

TEST(Compression, RefusesMoreThanTheLimit) {
  const std::string bytes = compress(std::string(10'000'000, 'x'));
  EXPECT_LT(bytes.size(), 5000u);
  const auto back = decompress(bytes, 9'999'999);
  ASSERT_FALSE(back);
  EXPECT_EQ(back.error().kind, FailureKind::invalid);
}

TEST(Compression, RefusesALargeWindow) {
  std::string text = lines(20'000'000);
  std::string bytes(ZSTD_compressBound(text.size()), '\0');
  ZSTD_CCtx* context = ZSTD_createCCtx();
  ZSTD_CCtx_setParameter(context, ZSTD_c_windowLog, 24);
  bytes.resize(ZSTD_compress2(context, bytes.data(), bytes.size(), text.data(), text.size()));
  ZSTD_freeCCtx(context);
  const auto back = decompress(bytes, text.size());
  ASSERT_FALSE(back);
  EXPECT_EQ(back.error().kind, FailureKind::corrupt);
}

TEST(Compression, RefusesNonsenseCutsAndWhatFollowsTheEnd) {
  const std::string bytes = compress(lines(3000));
  EXPECT_FALSE(decompress("nonsense", 100));
  EXPECT_FALSE(decompress("", 100));
  EXPECT_FALSE(decompress(bytes + "x", 10000));
  for (std::size_t i = 0; i < bytes.size(); ++i)
    EXPECT_FALSE(decompress(bytes.substr(0, i), 10000));
}

TEST(Compression, GivesWhatCameBeforeACut) {
  const std::string text = lines(1'000'000);
  const std::string bytes = compress(text);
  Decompressor decompressor(text.size());
  std::string given;
  for (std::size_t i = 0; i < bytes.size() / 2; i += 1000) {
    const auto part = decompressor.take(std::string_view(bytes).substr(i, 1000));
    ASSERT_TRUE(part);
    given += *part;
  }
  EXPECT_FALSE(decompressor.ended());
  EXPECT_GT(given.size(), text.size() / 4);
  EXPECT_TRUE(text.starts_with(given));
}

}  // namespace
}  // namespace swardwalk::exchange
