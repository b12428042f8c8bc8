#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <QImage>
#include <QRandomGenerator>
#include <QTcpServer>
#include <QTcpSocket>
#include <QTemporaryDir>

#include "common/journal/photo_folder.h"
#include "mobile/photos/photo_model.h"
#include "tests/mobile/real_sheds.h"

namespace swardwalk::mobile {
namespace {

using testing::HasSubstr;

/// A picture that compresses badly, so that it goes in several parts.
QImage noise(int side, quint32 seed) {
  QImage picture(side, side, QImage::Format_RGB32);
  QRandomGenerator random(seed);
  for (int y = 0; y < side; ++y) {
    for (int x = 0; x < side; ++x) picture.setPixel(x, y, random.generate() | 0xFF000000U);
  }
  return picture;
}

/// A tablet with a photo of its first patch, on disk and in its journal.
class ShedPhotos : public testing::Test {
 protected:
  ShedPhotos() {
    EXPECT_TRUE(noise(1200, 4).save(camera.filePath("a.jpg")));
    Options options;
    options.pictures = camera.path();
    trial = std::make_unique<Trial>(Trial::Begin::withCourse, options);
    patch = trial->app().store().state().patches.front().id;
    trial->app().photos().begin(patch);
    EXPECT_TRUE(trial->app().photos().take(0));
    photo = trial->app().store().state().patch(patch)->photos.front();
  }

  ShedModel& page() { return trial->app().shed(); }
  bool meet(const QString& address) {
    page().setAddress(address);
    page().exchangeNow();
    return settles(*trial);
  }
  journal::PhotoFolder here() const { return journal::PhotoFolder(trial->folder().toStdString()); }
  static journal::PhotoFolder of(const QString& folder) {
    return journal::PhotoFolder(folder.toStdString());
  }

  QTemporaryDir camera;
  std::unique_ptr<Trial> trial;
  std::string patch;
  course::Photo photo;
};

TEST_F(ShedPhotos, FollowTheRecordsWholeAndSmall) {
  Shed shed;
  ASSERT_TRUE(meet(shed.address()));
  ASSERT_EQ(page().show().title, "All exchanged") << page().show().second.toStdString();
  EXPECT_THAT(page().show().second.toStdString(), HasSubstr("The photos went too"));
  const auto whole = of(shed.folder()).read(photo.photo);
  ASSERT_TRUE(whole) << whole.error().text();
  EXPECT_GT(whole->size(), exchange::limits::photoPartBytes) << "in more than one part";
  EXPECT_EQ(*whole, *here().read(photo.photo));
  EXPECT_TRUE(of(shed.folder()).read(*photo.small));

  ASSERT_TRUE(meet(shed.address()));
  EXPECT_EQ(page().show().second.indexOf("photos"), -1) << "they are there";
}

TEST_F(ShedPhotos, GoThroughAGuardedDoor) {
  GuardedShed shed;
  page().setAddress(shed.card());
  page().pairNow();
  ASSERT_TRUE(settles(*trial));
  ASSERT_TRUE(meet(shed.address()));
  ASSERT_EQ(page().show().title, "All exchanged") << page().show().second.toStdString();
  EXPECT_TRUE(of(shed.folder()).read(photo.photo));
}

TEST_F(ShedPhotos, OneThatIsDamagedHereIsSaidAndTheRestIsThrough) {
  here().drop(photo.photo);
  ASSERT_TRUE(noise(100, 5).save(QString::fromStdString(here().fileOf(photo.photo)), "JPG"));
  Shed shed;
  ASSERT_TRUE(meet(shed.address()));
  EXPECT_FALSE(of(shed.folder()).read(photo.photo));
  EXPECT_TRUE(of(shed.folder()).read(*photo.small));
  EXPECT_GE(page().alarms()->rowCount(), 1);
}

/// Passes bytes on to a shed until so many went up, then breaks the connection.
class Cutter {
 public:
  Cutter(const QString& address, qint64 cutAt) : shed_(address), left_(cutAt) {
    server_.listen(QHostAddress::LocalHost);
    QObject::connect(&server_, &QTcpServer::newConnection, &server_, [this] {
      auto* near = server_.nextPendingConnection();
      auto* far = new QTcpSocket(near);
      far->connectToHost(shed_.host(), static_cast<quint16>(shed_.port()));
      QObject::connect(near, &QIODevice::readyRead, far, [this, near, far] {
        const QByteArray bytes = near->readAll();
        far->write(bytes.left(std::max<qint64>(left_, 0)));
        left_ -= bytes.size();
        if (left_ <= 0) {
          far->flush();
          far->disconnectFromHost();
          near->abort();
        }
      });
      QObject::connect(far, &QIODevice::readyRead, near,
                       [near, far] { near->write(far->readAll()); });
    });
  }
  QString address() const { return QString("http://127.0.0.1:%1").arg(server_.serverPort()); }

 private:
  QUrl shed_;
  qint64 left_;
  QTcpServer server_;
};

TEST_F(ShedPhotos, GoOnAfterACutFromWhereTheShedHasThem) {
  const auto size = here().read(photo.photo)->size();
  ASSERT_GT(size, 2 * exchange::limits::photoPartBytes);
  Shed shed;
  Cutter cutter(shed.address(), static_cast<qint64>(size * 3 / 4));
  ASSERT_TRUE(meet(cutter.address()));
  EXPECT_THAT(page().show().title.toStdString(), HasSubstr("records are through"));
  EXPECT_THAT(page().show().second.toStdString(), HasSubstr("othing is lost"));
  EXPECT_EQ(trial->app().shell().onlyHere(), "") << "the records are at the shed";
  ASSERT_TRUE(waitUntil([&] { return of(shed.folder()).have(photo.photo) > 0; }));
  EXPECT_FALSE(of(shed.folder()).read(photo.photo));

  ASSERT_TRUE(meet(shed.address()));
  EXPECT_EQ(page().show().title, "All exchanged") << page().show().second.toStdString();
  const auto whole = of(shed.folder()).read(photo.photo);
  ASSERT_TRUE(whole) << whole.error().text();
  EXPECT_EQ(*whole, *here().read(photo.photo));
}

TEST_F(ShedPhotos, OneWhoseRecordWasErasedAtTheShedIsDroppedHere) {
  GuardedShed shed;
  page().setAddress(shed.card());
  page().pairNow();
  ASSERT_TRUE(settles(*trial));
  ASSERT_TRUE(meet(shed.address()));
  ASSERT_TRUE(of(shed.folder()).read(photo.photo));
  shed.command({"erase", QString::fromStdString(journal::hex(photo.source.digest))});
  EXPECT_FALSE(of(shed.folder()).read(photo.photo));
  ASSERT_TRUE(meet(shed.address()));
  EXPECT_TRUE(trial->app().store().state().patch(patch)->photos.empty());
  EXPECT_FALSE(here().read(photo.photo));
  EXPECT_FALSE(here().read(*photo.small));
}

}  // namespace
}  // namespace swardwalk::mobile
