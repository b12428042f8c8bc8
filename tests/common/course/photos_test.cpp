#include "common/course/photos.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "common/course/erasing.h"
#include "common/journal/digest.h"
#include "tests/common/course/devices.h"

namespace swardwalk::course {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

Photo photoOf(const std::string& patch, const std::string& picture,
              const std::optional<std::string>& small = std::nullopt) {
  Photo photo;
  photo.patch = patch;
  photo.seen = at("2027-04-10T06:00:00Z");
  photo.photo = journal::blake2b(picture);
  if (small) photo.small = journal::blake2b(*small);
  return photo;
}

std::vector<journal::Digest> namesOf(Device& device) {
  std::vector<journal::Digest> names;
  const auto named = namedPhotos(device.journal());
  EXPECT_TRUE(named);
  for (const NamedPhoto& photo : *named) names.push_back(photo.photo);
  return names;
}

const std::string sighting = R"({"patch":"N7","kind":"bare","seen":"2027-04-10T06:00:00Z"})";

TEST(NamedPhotos, AreTheSmallOnesFirstAndTheNewestFirst) {
  Device tablet(1, nullptr);
  ASSERT_TRUE(tablet.recorder().photo(photoOf("N7", "first", "first, small")));
  ASSERT_TRUE(tablet.recorder().photo(photoOf("N7", "second")));
  ASSERT_TRUE(tablet.recorder().photo(photoOf("N8", "third", "third, small")));
  EXPECT_THAT(namesOf(tablet),
              ElementsAre(journal::blake2b("third, small"), journal::blake2b("first, small"),
                          journal::blake2b("third"), journal::blake2b("second"),
                          journal::blake2b("first")));
}

TEST(NamedPhotos, SayWhoseRecordNamesThemAndEachOnce) {
  Device shed(1, nullptr);
  Device tablet(2, &shed);
  ASSERT_TRUE(tablet.recorder().photo(photoOf("N7", "picture", "picture")));
  ASSERT_TRUE(tablet.recorder().photo(photoOf("N8", "picture")));
  shed.takeAll(tablet);
  const auto named = namedPhotos(shed.journal());
  ASSERT_TRUE(named);
  ASSERT_EQ(named->size(), 1u);
  EXPECT_EQ((*named)[0].origin, tablet.journal().origin());
}

TEST(NamedPhotos, AWithdrawnOneIsStillWantedAndAnErasedOneIsNot) {
  Device tablet(1, nullptr);
  const auto withdrawn = tablet.recorder().photo(photoOf("N7", "withdrawn"));
  const auto erased = tablet.recorder().photo(photoOf("N7", "erased"));
  ASSERT_TRUE(withdrawn && erased);
  ASSERT_TRUE(tablet.recorder().withdraw(withdrawn->digest, "of the wrong patch"));
  ASSERT_TRUE(erase(tablet.journal(), journal::hex(erased->digest), 1'800'000'000'000));
  EXPECT_THAT(namesOf(tablet), ElementsAre(journal::blake2b("withdrawn")));
}

TEST(NamedPhotos, ErasedOnesLeaveTheFolderAndOthersStay) {
  TempFolder folder;
  journal::PhotoFolder photos(folder.file("data"));
  const auto erased = photos.add("erased").value();
  const auto shared = photos.add("named by two").value();
  const auto strange = photos.add("named by none").value();
  dropErased(photos, {{erased, {}}, {shared, {}}}, {{shared, {}}});
  EXPECT_FALSE(photos.holds(erased));
  EXPECT_TRUE(photos.holds(shared));
  EXPECT_TRUE(photos.holds(strange));
}

TEST(PhotoOfAPatch, StandsInItsLifeUntilItIsWithdrawn) {
  Device tablet(1, nullptr);
  tablet.write("sighting", sighting, point(5, 5));
  const Photo photo = photoOf("N7", "picture", "small");
  const auto record = tablet.recorder().photo(photo);
  ASSERT_TRUE(record) << record.error().text();
  const CourseState state = tablet.state();
  ASSERT_EQ(state.patches.size(), 1u);
  ASSERT_EQ(state.patches[0].photos.size(), 1u);
  EXPECT_EQ(state.patches[0].photos[0].photo, photo.photo);
  EXPECT_EQ(state.patches[0].photos[0].small, photo.small);
  EXPECT_EQ(state.patches[0].photos[0].seen, photo.seen);
  ASSERT_TRUE(tablet.recorder().withdraw(record->digest, "of the wrong patch"));
  EXPECT_THAT(tablet.state().patches[0].photos, IsEmpty());
}

TEST(PhotoOfAPatch, FollowsItWhenTwoBecomeOne) {
  Device tablet(1, nullptr);
  tablet.write("sighting", sighting, point(5, 5));
  tablet.write("sighting", R"({"patch":"N9","kind":"bare","seen":"2027-04-11T06:00:00Z"})",
               point(5, 5));
  ASSERT_TRUE(tablet.recorder().photo(photoOf("N9", "picture")));
  tablet.write("join", R"({"patch":"N9","same_as":"N7"})");
  const CourseState state = tablet.state();
  ASSERT_EQ(state.patches.size(), 1u);
  EXPECT_EQ(state.patches[0].photos.size(), 1u);
}

TEST(PhotoOfAPatch, WithoutADigestItIsRefused) {
  Device tablet(1, nullptr);
  for (const char* bad : {R"({"patch":"N7","seen":"2027-04-10T06:00:00Z"})",
                          R"({"patch":"N7","seen":"2027-04-10T06:00:00Z","photo":"../../etc"})",
                          R"({"patch":"N7","photo":"../../etc"})"}) {
    const std::string body = std::string(R"({"properties":)") + bad + "}";
    tablet.writeRaw("photo", body);
  }
  EXPECT_EQ(tablet.state().unusable.size(), 3u);
  EXPECT_THAT(namesOf(tablet), IsEmpty());
}

}  // namespace
}  // namespace swardwalk::course
