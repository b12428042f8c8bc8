#include "common/journal/photo_folder.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "common/journal/digest.h"
#include "tests/common/journal/devices.h"

namespace swardwalk::journal {
namespace {

using ::testing::HasSubstr;
using ::testing::UnorderedElementsAre;

const std::string picture = "a picture of a washed channel, all of its bytes";

class Photos : public ::testing::Test {
 protected:
  TempFolder folder;
  PhotoFolder photos{folder.file("data")};
  Digest name = blake2b(picture);

  void damage() { std::ofstream(photos.fileOf(name), std::ios::binary) << "something else"; }
};

TEST_F(Photos, APictureComesBackUnderTheDigestOfItsBytes) {
  EXPECT_FALSE(photos.holds(name));
  EXPECT_EQ(photos.have(name), 0u);
  const auto added = photos.add(picture);
  ASSERT_TRUE(added) << added.error().text();
  EXPECT_EQ(*added, name);
  EXPECT_TRUE(photos.holds(name));
  EXPECT_EQ(photos.have(name), picture.size());
  EXPECT_EQ(photos.read(name).value(), picture);
  EXPECT_EQ(photos.fileOf(name), folder.file("data") + "/photos/" + hex(name));
}

TEST_F(Photos, TheSamePictureTwiceIsOne) {
  ASSERT_TRUE(photos.add(picture));
  ASSERT_TRUE(photos.add(picture));
  EXPECT_THAT(photos.all().value(), UnorderedElementsAre(name));
}

TEST_F(Photos, NothingAndTooMuchAreRefusedInWords) {
  EXPECT_THAT(photos.add("").error().text(), HasSubstr("empty"));
  const auto tooMuch = photos.add(std::string(limits::photoBytes + 1, 'x'));
  ASSERT_FALSE(tooMuch);
  EXPECT_THAT(tooMuch.error().text(), HasSubstr("8 MiB"));
  EXPECT_TRUE(photos.add(std::string(limits::photoBytes, 'x')));
}

TEST_F(Photos, ADamagedOneIsNotGivenAndANewCopyReplacesIt) {
  ASSERT_TRUE(photos.add(picture));
  damage();
  const auto read = photos.read(name);
  ASSERT_FALSE(read);
  EXPECT_EQ(read.error().kind, FailureKind::corrupt);
  ASSERT_TRUE(photos.add(picture));
  EXPECT_EQ(photos.read(name).value(), picture);
}

TEST_F(Photos, PartsMakeItWholeAndGoOnAfterACut) {
  EXPECT_EQ(photos.take(name, 0, picture.size(), picture.substr(0, 10)).value(), 10u);
  EXPECT_FALSE(photos.holds(name));
  EXPECT_EQ(photos.have(name), 10u);
  PhotoFolder later(folder.file("data"));  // after the program was killed
  EXPECT_EQ(later.have(name), 10u);
  EXPECT_EQ(later.take(name, 10, picture.size(), picture.substr(10)).value(), picture.size());
  EXPECT_EQ(later.read(name).value(), picture);
  EXPECT_THAT(later.all().value(), UnorderedElementsAre(name));
  EXPECT_FALSE(std::filesystem::exists(later.fileOf(name) + ".part"));
}

TEST_F(Photos, PartsThatAreHereOrDoNotFollowAreLeftAlone) {
  ASSERT_TRUE(photos.take(name, 0, picture.size(), picture.substr(0, 10)));
  EXPECT_EQ(photos.take(name, 0, picture.size(), picture.substr(0, 10)).value(), 10u);
  EXPECT_EQ(photos.take(name, 20, picture.size(), picture.substr(20)).value(), 10u);
  EXPECT_EQ(photos.take(name, 10, picture.size(), picture.substr(10)).value(), picture.size());
  EXPECT_EQ(photos.take(name, 0, picture.size(), picture.substr(0, 10)).value(), picture.size());
  EXPECT_EQ(photos.read(name).value(), picture);
}

TEST_F(Photos, BytesOfAnotherPictureAreRefusedAndAllMustComeAgain) {
  std::string other = picture;
  other.back() = '!';
  const auto taken = photos.take(name, 0, other.size(), other);
  ASSERT_FALSE(taken);
  EXPECT_EQ(taken.error().kind, FailureKind::corrupt);
  EXPECT_EQ(photos.have(name), 0u);
  EXPECT_EQ(photos.take(name, 0, picture.size(), picture).value(), picture.size());
}

TEST_F(Photos, NumbersThatDoNotFitTogetherAreRefused) {
  const std::uint64_t most = limits::photoBytes;
  for (const auto& [from, of] : std::vector<std::pair<std::uint64_t, std::uint64_t>>{
           {0, 0}, {0, 3}, {9, 8}, {0, most + 1}, {most - 1, most}, {~std::uint64_t{0}, most}}) {
    const auto taken = photos.take(name, from, of, "four");
    ASSERT_FALSE(taken) << from << " of " << of;
    EXPECT_EQ(taken.error().kind, FailureKind::invalid);
  }
  EXPECT_FALSE(std::filesystem::exists(folder.file("data") + "/photos"));
}

TEST_F(Photos, WhatIsDroppedIsGoneWithItsParts) {
  ASSERT_TRUE(photos.add(picture));
  const Digest half = blake2b("half");
  ASSERT_TRUE(photos.take(half, 0, 4, "ha"));
  photos.drop(name);
  photos.drop(half);
  photos.drop(blake2b("never here"));
  EXPECT_TRUE(std::filesystem::is_empty(folder.file("data") + "/photos"));
}

TEST_F(Photos, FilesOfOtherNamesAreNoPictures) {
  ASSERT_TRUE(photos.add(picture));
  std::ofstream(folder.file("data") + "/photos/holiday.jpg") << "x";
  ASSERT_TRUE(photos.take(blake2b("half"), 0, 4, "ha"));
  EXPECT_THAT(photos.all().value(), UnorderedElementsAre(name));
}

TEST_F(Photos, AFolderThatCannotBeMadeIsAFailureInWords) {
  std::ofstream(folder.file("data")) << "a file where the directory should be";
  const auto added = photos.add(picture);
  ASSERT_FALSE(added);
  EXPECT_EQ(added.error().kind, FailureKind::io);
  EXPECT_THAT(added.error().text(), HasSubstr("photos"));
}

}  // namespace
}  // namespace swardwalk::journal
