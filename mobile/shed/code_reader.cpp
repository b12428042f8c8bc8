#include "mobile/shed/code_reader.h"

#include <ZXing/ReadBarcode.h>
#include <ZXing/TextUtfEncoding.h>

#include <QImage>
#include <QImageReader>

namespace swardwalk::mobile {

namespace {

/// A camera gives many times more than a code needs, and finding it takes time with the
/// pixels. Smaller ones are tried too: they have less noise.
constexpr int sides_px[] = {1600, 800, 400};

std::optional<exchange::PairingCard> read(const QImage& grey) {
  ZXing::DecodeHints hints;
  hints.setFormats(ZXing::BarcodeFormat::QRCode);
  hints.setTryHarder(true);
  const auto found =
      ZXing::ReadBarcode({grey.constBits(), grey.width(), grey.height(), ZXing::ImageFormat::Lum,
                          static_cast<int>(grey.bytesPerLine())},
                         hints);
  if (!found.isValid()) return std::nullopt;
  const auto card = exchange::parsePairingCard(ZXing::TextUtfEncoding::ToUtf8(found.text()));
  return card ? std::optional(*card) : std::nullopt;
}

}  // namespace

std::optional<exchange::PairingCard> pairingCardIn(const QString& picture) {
  QImageReader reader(picture);
  reader.setDecideFormatFromContent(true);
  QImage image = reader.read().convertToFormat(QImage::Format_Grayscale8);
  for (const int side_px : sides_px) {
    if (std::max(image.width(), image.height()) > side_px) {
      image = image.scaled(side_px, side_px, Qt::KeepAspectRatio, Qt::SmoothTransformation)
                  .convertToFormat(QImage::Format_Grayscale8);
    }
    if (image.isNull()) break;
    if (const auto card = read(image)) return card;
  }
  return std::nullopt;
}

}  // namespace swardwalk::mobile
