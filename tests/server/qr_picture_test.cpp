#include "server/door/qr_picture.h"

#include <ZXing/ReadBarcode.h>
#include <ZXing/TextUtfEncoding.h>
#include <gtest/gtest.h>

#include <charconv>

#include "common/exchange/pairing.h"

namespace swardwalk::server {
namespace {

int numberAfter(const std::string& text, std::size_t at) {
  int number = 0;
  std::from_chars(text.data() + at, text.data() + text.size(), number);
  return number;
}

/// Draws the modules ("Mx yh1v1h-1z") as a camera would see them, `scale` pixels each.
std::vector<std::uint8_t> drawn(const std::string& svg, int side, int scale) {
  std::vector<std::uint8_t> pixels(static_cast<std::size_t>(side * scale * side * scale), 255);
  for (std::size_t at = svg.find("h1v1h-1z"); at != std::string::npos;
       at = svg.find("h1v1h-1z", at + 1)) {
    const std::size_t begin = svg.rfind('M', at);
    const int x = numberAfter(svg, begin + 1);
    const int y = numberAfter(svg, svg.find(' ', begin) + 1);
    for (int row = 0; row < scale; ++row) {
      for (int column = 0; column < scale; ++column) {
        pixels[static_cast<std::size_t>((y * scale + row) * side * scale + x * scale + column)] = 0;
      }
    }
  }
  return pixels;
}

TEST(QrPicture, AnotherReaderGetsAddressFingerprintAndCode) {
  const exchange::PairingCard card{"https://192.0.2.7:8137/", std::string(64, 'f'), "7K2MQ9TX"};
  const std::string svg = qrPicture(exchange::write(card));
  const std::string box = "viewBox=\"0 0 ";
  const int side = numberAfter(svg, svg.find(box) + box.size());
  ASSERT_GT(side, 20);
  constexpr int scale = 4;
  const auto pixels = drawn(svg, side, scale);
  const auto read =
      ZXing::ReadBarcode({pixels.data(), side * scale, side * scale, ZXing::ImageFormat::Lum});
  ASSERT_TRUE(read.isValid());
  const auto found = exchange::parsePairingCard(ZXing::TextUtfEncoding::ToUtf8(read.text()));
  ASSERT_TRUE(found);
  EXPECT_EQ(found->address, card.address);
  EXPECT_EQ(found->fingerprint, card.fingerprint);
  EXPECT_EQ(found->code, card.code);
}

}  // namespace
}  // namespace swardwalk::server
