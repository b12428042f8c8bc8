#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <QBuffer>
#include <QDateTime>
#include <QFile>
#include <QImage>
#include <QTemporaryDir>
#include <QUrl>

#include "common/journal/photo_folder.h"
#include "mobile/photos/photo_maker.h"
#include "mobile/photos/photo_model.h"
#include "tests/mobile/trial_course.h"

namespace swardwalk::mobile {
namespace {

using testing::HasSubstr;
using testing::Not;

/// A picture with grass above and sand below, and words of the camera in it.
QImage scene(int wide, int high) {
  QImage picture(wide, high, QImage::Format_RGB32);
  picture.fill(QColor(40, 120, 40));
  for (int y = high / 2; y < high; ++y) {
    for (int x = 0; x < wide; ++x) picture.setPixelColor(x, y, QColor(220, 200, 150));
  }
  picture.setText("Description", "serial number 4711");
  return picture;
}

QImage imageOf(const std::string& bytes) {
  return QImage::fromData(QByteArray::fromStdString(bytes));
}

class PhotoMaker : public testing::Test {
 protected:
  QString file(const QString& name) const { return folder.filePath(name); }
  QTemporaryDir folder;
};

TEST_F(PhotoMaker, MakesALargePictureSmallerAndASmallOneForLists) {
  scene(4000, 3000).save(file("a.jpg"));
  const auto made = makePhoto(file("a.jpg"));
  ASSERT_TRUE(made) << made.error().text();
  EXPECT_EQ(imageOf(made->whole).size(), QSize(2560, 1920));
  EXPECT_EQ(imageOf(made->small).size(), QSize(480, 360));
  EXPECT_LT(made->small.size(), 100'000U);
}

TEST_F(PhotoMaker, LeavesASmallPictureItsSize) {
  scene(600, 300).save(file("a.png"));
  const auto made = makePhoto(file("a.png"));
  ASSERT_TRUE(made);
  EXPECT_EQ(imageOf(made->whole).size(), QSize(600, 300));
  EXPECT_TRUE(made->whole.starts_with("\xFF\xD8\xFF")) << "JPEG, whatever it was";
}

TEST_F(PhotoMaker, TurnsItUpright) {
  QByteArray bytes;
  QBuffer buffer(&bytes);
  ASSERT_TRUE(buffer.open(QIODevice::WriteOnly));
  ASSERT_TRUE(scene(800, 400).save(&buffer, "JPG"));
  // Exif 2.32 (JEITA CP-3451), 4.6.4: orientation 6, the camera was held upright. One entry
  // in the first directory, big-endian, right after the start of the image.
  bytes.insert(2, QByteArray::fromHex("ffe10022457869660000"          // APP1 of 34 bytes, "Exif"
                                      "4d4d002a00000008"              // TIFF, directory at 8
                                      "0001011200030000000100060000"  // orientation
                                      "00000000"));
  QFile upright(file("a.jpg"));
  ASSERT_TRUE(upright.open(QIODevice::WriteOnly));
  upright.write(bytes);
  upright.close();
  const auto made = makePhoto(file("a.jpg"));
  ASSERT_TRUE(made);
  const QImage whole = imageOf(made->whole);
  EXPECT_EQ(whole.size(), QSize(400, 800));
  // The sand was below; turned right by a quarter it is at the left.
  EXPECT_GT(whole.pixelColor(50, 400).red(), 150);
  EXPECT_LT(whole.pixelColor(350, 400).red(), 100);
}

TEST_F(PhotoMaker, LeavesNothingOfTheCameraInIt) {
  scene(600, 300).save(file("a.jpg"));
  QFile original(file("a.jpg"));
  ASSERT_TRUE(original.open(QIODevice::ReadOnly));
  ASSERT_TRUE(original.readAll().contains("4711"));
  const auto made = makePhoto(file("a.jpg"));
  ASSERT_TRUE(made);
  EXPECT_EQ(made->whole.find("4711"), std::string::npos);
  EXPECT_EQ(made->small.find("4711"), std::string::npos);
}

TEST_F(PhotoMaker, SaysWhatIsNoPicture) {
  QFile text(file("a.jpg"));
  ASSERT_TRUE(text.open(QIODevice::WriteOnly));
  text.write("not a picture");
  text.close();
  for (const QString& name : {file("a.jpg"), file("nowhere.jpg")}) {
    const auto made = makePhoto(name);
    ASSERT_FALSE(made);
    EXPECT_THAT(made.error().text(), HasSubstr("no picture that can be read"));
  }
}

/// A tablet whose camera wrote two pictures, and something else.
class PhotoPage : public testing::Test {
 protected:
  PhotoPage() {
    picture("first.jpg", "2027-04-28T09:00:00Z");
    picture("second.jpg", "2027-04-29T05:30:00Z");
    QFile note(camera.filePath("note.txt"));
    EXPECT_TRUE(note.open(QIODevice::WriteOnly));
    Options options;
    options.pictures = camera.path();
    trial = std::make_unique<Trial>(Trial::Begin::withCourse, options);
    patch = trial->app().store().state().patches.front().id;
    photos().begin(patch);
  }

  void picture(const QString& name, const char* taken) {
    const QString path = camera.filePath(name);
    scene(name.size() * 20, 200).save(path);
    dated(name, taken);
  }
  void dated(const QString& name, const char* taken) {
    QFile file(camera.filePath(name));
    ASSERT_TRUE(file.open(QIODevice::ReadWrite));
    ASSERT_TRUE(file.setFileTime(QDateTime::fromString(QString::fromUtf8(taken), Qt::ISODate),
                                 QFileDevice::FileModificationTime));
  }

  PhotoModel& photos() { return trial->app().photos(); }
  QString shown(int row, const char* role) {
    auto* rows = photos().pictures();
    return rows->data(rows->index(row, 0), rows->roleNames().key(role)).toString();
  }
  const course::Patch& patchNow() { return *trial->app().store().state().patch(patch); }
  journal::PhotoFolder folder() { return journal::PhotoFolder(trial->folder().toStdString()); }

  QTemporaryDir camera;
  std::unique_ptr<Trial> trial;
  std::string patch;
};

TEST_F(PhotoPage, ShowsWhatTheCameraTookNewestFirst) {
  ASSERT_EQ(photos().pictures()->rowCount(), 2);
  EXPECT_THAT(shown(0, "address").toStdString(), HasSubstr("second.jpg"));
  EXPECT_THAT(shown(1, "when").toStdString(), HasSubstr("28 April"));
}

TEST_F(PhotoPage, OneTouchTakesItAndItIsOnDiskWithItsRecord) {
  ASSERT_TRUE(photos().take(1));
  EXPECT_EQ(photos().saved().weight, Show::Good);
  EXPECT_EQ(shown(1, "taken"), "true");
  ASSERT_EQ(patchNow().photos.size(), 1U);
  const course::Photo& photo = patchNow().photos.front();
  EXPECT_EQ(photo.seen, measure::parseInstant("2027-04-28T09:00:00Z"));
  EXPECT_TRUE(folder().read(photo.photo));
  EXPECT_TRUE(folder().read(*photo.small));
  EXPECT_FALSE(photos().take(1)) << "the same twice";
  photos().look();
  EXPECT_EQ(shown(0, "taken"), "false");
  EXPECT_EQ(shown(1, "taken"), "true");
  trial->restart();
  EXPECT_EQ(patchNow().photos.size(), 1U);
}

TEST_F(PhotoPage, UndoTakesTheLastOneBack) {
  ASSERT_TRUE(photos().take(0));
  photos().takeBack();
  EXPECT_TRUE(patchNow().photos.empty());
  EXPECT_EQ(shown(0, "taken"), "false");
  EXPECT_FALSE(photos().canTakeBack());
  EXPECT_TRUE(photos().take(0));
}

TEST_F(PhotoPage, ThePictureThatThePatchHasIsNotTakenTwice) {
  ASSERT_TRUE(photos().take(0));
  photos().begin(patch);
  EXPECT_FALSE(photos().take(0));
  EXPECT_THAT(photos().saved().title.toStdString(), HasSubstr("has this picture already"));
  EXPECT_EQ(patchNow().photos.size(), 1U);
}

TEST_F(PhotoPage, ADiskThatTakesNothingIsSaidAndNoRecordNamesThePhoto) {
  QFile inTheWay(trial->folder() + "/photos");
  ASSERT_TRUE(inTheWay.open(QIODevice::WriteOnly));
  EXPECT_FALSE(photos().take(0));
  EXPECT_EQ(photos().saved().weight, Show::Stop);
  EXPECT_TRUE(patchNow().photos.empty());
  EXPECT_EQ(shown(0, "taken"), "false");
}

TEST_F(PhotoPage, ABrokenPictureIsSaid) {
  QFile broken(camera.filePath("second.jpg"));
  ASSERT_TRUE(broken.open(QIODevice::WriteOnly));
  broken.write("nothing");
  broken.close();
  dated("second.jpg", "2027-04-29T05:30:00Z");
  photos().look();
  EXPECT_FALSE(photos().take(0));
  EXPECT_THAT(photos().saved().title.toStdString() + photos().saved().reason.toStdString(),
              HasSubstr("no picture that can be read"));
}

TEST_F(PhotoPage, AnEmptyFolderSaysWhereItLooked) {
  QFile::remove(camera.filePath("first.jpg"));
  QFile::remove(camera.filePath("second.jpg"));
  photos().look();
  EXPECT_EQ(photos().pictures()->rowCount(), 0);
  EXPECT_THAT(photos().second().toStdString(), HasSubstr(camera.path().toStdString()));
}

TEST_F(PhotoPage, ThePatchShowsItsPhotosAndSaysWhereOthersAre) {
  ASSERT_TRUE(photos().take(0));
  PatchModel& page = trial->app().patch();
  page.open(patch);
  auto* rows = page.photos();
  ASSERT_EQ(rows->rowCount(), 1);
  const auto address = [&] {
    return rows->data(rows->index(0, 0), rows->roleNames().key("address")).toString();
  };
  EXPECT_TRUE(QFile::exists(QUrl(address()).toLocalFile()));
  folder().drop(patchNow().photos.front().photo);
  page.open(patch);
  EXPECT_EQ(address(), "");
}

TEST_F(PhotoPage, ASavedSightingOffersAPhotoOfItsPatch) {
  WalkModel& walk = trial->app().walk();
  EXPECT_FALSE(walk.show().canPhoto);
  trial->stand(4, 0);
  walk.mark();
  trial->app().mark().chooseKind(Show::Dug);
  ASSERT_TRUE(trial->app().mark().save());
  ASSERT_TRUE(walk.show().canPhoto);
  walk.photograph();
  EXPECT_EQ(trial->app().shell().task(), Shell::Photos);
  ASSERT_TRUE(photos().take(0));
  photos().back();
  EXPECT_EQ(trial->app().shell().task(), Shell::NoTask);
  EXPECT_TRUE(patchNow().photos.empty()) << "it went to the new patch";
  const auto& patches = trial->app().store().state().patches;
  EXPECT_EQ(std::count_if(patches.begin(), patches.end(),
                          [](const course::Patch& any) { return any.photos.size() == 1; }),
            1);
  walk.undo();
  EXPECT_FALSE(walk.show().canPhoto);
}

}  // namespace
}  // namespace swardwalk::mobile
