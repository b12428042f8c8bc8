#include "mobile/photos/photo_maker.h"

#include <QBuffer>
#include <QImage>
#include <QImageReader>
#include <QPainter>

namespace swardwalk::mobile {

namespace {

/// Wet grass has much detail: these keep a bare spot's edge and stay under a megabyte.
constexpr int quality = 85;
constexpr int smallQuality = 75;

std::string jpeg(const QImage& picture, int side_px, int qualityOf100) {
  QSize size = picture.size();
  if (std::max(size.width(), size.height()) > side_px) {
    size.scale(side_px, side_px, Qt::KeepAspectRatio);
  }
  // A fresh one takes the pixels alone, and white where it was transparent.
  QImage clean(size.expandedTo({1, 1}), QImage::Format_RGB32);
  clean.fill(Qt::white);
  QPainter painter(&clean);
  painter.drawImage(0, 0,
                    picture.scaled(clean.size(), Qt::IgnoreAspectRatio, Qt::SmoothTransformation));
  painter.end();
  QByteArray bytes;
  QBuffer buffer(&bytes);
  buffer.open(QIODevice::WriteOnly);
  clean.save(&buffer, "JPG", qualityOf100);
  return bytes.toStdString();
}

}  // namespace

Result<MadePhoto> makePhoto(const QString& file) {
  QImageReader reader(file);
  reader.setAutoTransform(true);
  reader.setDecideFormatFromContent(true);
  const QImage picture = reader.read();
  if (picture.isNull()) {
    return fail(FailureKind::invalid, file.toStdString(), "this is no picture that can be read",
                "choose another one, or take it again");
  }
  return MadePhoto{jpeg(picture, photoSide_px, quality),
                   jpeg(picture, smallPhotoSide_px, smallQuality)};
}

}  // namespace swardwalk::mobile
