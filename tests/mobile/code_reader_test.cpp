#include "mobile/shed/code_reader.h"

#include <ZXing/BitMatrix.h>
#include <ZXing/MultiFormatWriter.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <QDateTime>
#include <QFile>
#include <QImage>
#include <QPainter>
#include <QRandomGenerator>
#include <QTemporaryDir>
#include <QTransform>

#include "tests/mobile/real_sheds.h"

namespace swardwalk::mobile {
namespace {

using testing::HasSubstr;

/// The code as it stands on a screen or on paper, drawn by the library's own writer.
QImage codeOf(const std::string& words) {
  constexpr int side = 600;
  ZXing::MultiFormatWriter writer(ZXing::BarcodeFormat::QRCode);
  const auto modules = writer.encode(std::wstring(words.begin(), words.end()), side, side);
  QImage code(side, side, QImage::Format_RGB32);
  for (int y = 0; y < side; ++y) {
    for (int x = 0; x < side; ++x) {
      code.setPixelColor(x, y, modules.get(x, y) ? QColor(30, 30, 40) : QColor(225, 222, 210));
    }
  }
  return code;
}

/// What a camera of so many pixels makes of it: turned, tilted, unsharp, noisy.
QImage photographed(const QImage& code, QSize camera, double turned_deg, double tilt) {
  QImage picture(camera, QImage::Format_RGB32);
  picture.fill(QColor(90, 70, 60));
  QPainter painter(&picture);
  painter.setRenderHint(QPainter::SmoothPixmapTransform);
  const double scale = 0.5 * camera.height() / code.height();
  QTransform seen;
  seen.translate(camera.width() * 0.5, camera.height() * 0.5);
  seen.rotate(turned_deg);
  seen.scale(scale, scale);
  const QTransform perspective(1, 0, tilt / 1000.0, 0, 1, 0, 0, 0, 1);
  painter.setTransform(QTransform::fromTranslate(-0.5 * code.width(), -0.5 * code.height()) *
                       perspective * seen);
  painter.drawImage(0, 0, code);
  painter.end();
  QImage unsharp = picture.scaled(camera / 2, Qt::IgnoreAspectRatio, Qt::SmoothTransformation)
                       .scaled(camera, Qt::IgnoreAspectRatio, Qt::SmoothTransformation);
  QRandomGenerator random(7);
  for (int y = 0; y < unsharp.height(); ++y) {
    for (int x = 0; x < unsharp.width(); ++x) {
      const QRgb was = unsharp.pixel(x, y);
      const int noise = random.bounded(-20, 21);
      const auto with = [&](int channel) { return std::clamp(channel + noise, 0, 255); };
      unsharp.setPixel(x, y, qRgb(with(qRed(was)), with(qGreen(was)), with(qBlue(was))));
    }
  }
  return unsharp;
}

class CodeReader : public testing::Test {
 protected:
  QString keep(const QImage& picture) {
    const QString path = folder.filePath("code.jpg");
    EXPECT_TRUE(picture.save(path));
    return path;
  }
  const exchange::PairingCard card{"https://192.0.2.7:8137/", std::string(64, 'f'), "7K2MQ9TX"};
  QTemporaryDir folder;
};

TEST_F(CodeReader, ReadsItTurnedTiltedUnsharpAndNoisy) {
  const QImage code = codeOf(exchange::write(card));
  for (const auto& [turned_deg, tilt] :
       {std::pair(0.0, 0.0), std::pair(12.0, 0.2), std::pair(93.0, 0.1), std::pair(180.0, -0.2)}) {
    const auto seen = photographed(code, {2400, 1800}, turned_deg, tilt);
    const auto found = pairingCardIn(keep(seen));
    ASSERT_TRUE(found) << turned_deg << " degrees";
    EXPECT_EQ(found->address, card.address);
    EXPECT_EQ(found->fingerprint, card.fingerprint);
    EXPECT_EQ(found->code, card.code);
  }
}

TEST_F(CodeReader, FindsNothingWhereNothingOfOursIs) {
  EXPECT_FALSE(
      pairingCardIn(keep(photographed(codeOf("https://example.org/"), {1200, 900}, 0, 0))));
  QImage grass(800, 600, QImage::Format_RGB32);
  grass.fill(QColor(40, 120, 40));
  EXPECT_FALSE(pairingCardIn(keep(grass)));
  QFile broken(folder.filePath("broken.jpg"));
  ASSERT_TRUE(broken.open(QIODevice::WriteOnly));
  broken.write("\xFF\xD8\xFF nothing");
  broken.close();
  EXPECT_FALSE(pairingCardIn(broken.fileName()));
  EXPECT_FALSE(pairingCardIn(folder.filePath("nowhere.jpg")));
}

TEST_F(CodeReader, ATabletWithoutAddressPairsByAPictureAndExchanges) {
  GuardedShed shed;
  Options options;
  options.pictures = folder.path();
  Trial trial(Trial::Begin::withCourse, options);
  ShedModel& page = trial.app().shed();
  EXPECT_TRUE(page.show().asksToPair);

  page.readPicture();
  EXPECT_EQ(page.show().title, "No code in the newest pictures");
  EXPECT_THAT(page.show().second.toStdString(), HasSubstr(folder.path().toStdString()));

  keep(photographed(codeOf(shed.card().toStdString()), {1600, 1200}, 5, 0.1));
  page.readPicture();
  EXPECT_EQ(page.show().title, "The code is read");
  EXPECT_EQ(page.address(), shed.address());
  EXPECT_EQ(page.fingerprint(), shed.fingerprint());
  page.pairNow();
  ASSERT_TRUE(settles(trial));
  ASSERT_EQ(page.show().title, "Paired with the shed") << page.show().second.toStdString();
  page.exchangeNow();
  ASSERT_TRUE(settles(trial));
  EXPECT_EQ(page.show().title, "All exchanged") << page.show().second.toStdString();
}

TEST_F(CodeReader, ThePictureBeforeTheLastIsLookedAtToo) {
  Options options;
  options.pictures = folder.path();
  Trial trial(Trial::Begin::withCourse, options);
  QFile code(keep(codeOf(exchange::write(card))));
  ASSERT_TRUE(code.open(QIODevice::ReadWrite));
  code.setFileTime(QDateTime::currentDateTime().addSecs(-60), QFileDevice::FileModificationTime);
  code.close();
  QImage thumb(300, 200, QImage::Format_RGB32);
  thumb.fill(Qt::gray);
  ASSERT_TRUE(thumb.save(folder.filePath("thumb.jpg")));
  trial.app().shed().readPicture();
  EXPECT_EQ(trial.app().shed().show().title, "The code is read");
}

}  // namespace
}  // namespace swardwalk::mobile
