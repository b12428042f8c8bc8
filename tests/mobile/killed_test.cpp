#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <QRandomGenerator>
#include <set>

#include "common/course/course_fold.h"
#include "common/course/state.h"
#include "common/journal/folder.h"
#include "tests/mobile/real_sheds.h"

// A tablet's program that is killed without notice while it saves and exchanges (J2, X1).
namespace swardwalk::mobile {
namespace {

/// What the killed program had said to be saved.
std::set<std::string> savedIn(const QByteArray& said) {
  std::set<std::string> saved;
  for (const QByteArray& line : said.split('\n')) {
    // The last line may be cut; what is whole was said.
    if (line.startsWith("saved w") && said.contains(line + '\n')) {
      saved.insert(line.mid(6).toStdString());
    }
  }
  return saved;
}

class Killed : public testing::Test {
 protected:
  /// Lets it run until it has said so many words more, kills it, and gives all that it said.
  QByteArray walkAndKill(const QString& shed, int lines) {
    QProcess tablet;
    tablet.start(SWARDWALK_TABLET, {folder.path(), "shed", shed, "walk"});
    QByteArray said;
    while (said.count('\n') < lines && tablet.waitForReadyRead(20'000)) said += tablet.readAll();
    tablet.kill();
    tablet.waitForFinished();
    return said + tablet.readAll();
  }
  std::set<std::string> patchesIn(const QString& directory) {
    course::CourseFold fold;
    const auto journal =
        journal::openFolder(directory.toStdString(), journal::Missing::refuse, fold);
    std::set<std::string> patches;
    if (!journal) return patches;
    const auto state = course::readState(*journal, measure::Instant::max());
    if (!state) return patches;
    for (const course::Patch& patch : state->patches) patches.insert(patch.id);
    return patches;
  }
  static int server(const QStringList& words) {
    QProcess process;
    process.start(SWARDWALK_SERVER, words);
    process.waitForFinished();
    return process.exitCode();
  }

  QTemporaryDir folder;
};

TEST_F(Killed, InTheMidstOfSavingAndExchangingLosesNothingThatWasSaidToBeSaved) {
  Shed shed;
  std::set<std::string> saved;
  {
    // The course is there, since the shed has it.
    Trial other(Trial::Begin::withCourse);
    other.app().shed().setAddress(shed.address());
    other.app().shed().exchangeNow();
    ASSERT_TRUE(settles(other));
    QProcess tablet;
    tablet.start(SWARDWALK_TABLET, {folder.path(), "shed", shed.address(), "exchange"});
    ASSERT_TRUE(tablet.waitForFinished());
    ASSERT_THAT(tablet.readAll().toStdString(), testing::HasSubstr("All exchanged"));
  }
  for (int round = 0; round < 6; ++round) {
    saved.merge(savedIn(walkAndKill(shed.address(), 3 + 7 * round)));
    const auto there = patchesIn(folder.path());
    for (const std::string& patch : saved) EXPECT_TRUE(there.contains(patch)) << patch;
    EXPECT_EQ(server({"check", "--data", folder.path()}), 0);
  }
  EXPECT_GT(saved.size(), 60U);
  QProcess tablet;
  tablet.start(SWARDWALK_TABLET, {folder.path(), "shed", shed.address(), "exchange"});
  ASSERT_TRUE(tablet.waitForFinished());
  EXPECT_THAT(tablet.readAll().toStdString(), testing::HasSubstr("All exchanged"));
  EXPECT_EQ(patchesIn(folder.path()), patchesIn(shed.folder()));
  EXPECT_EQ(server({"check", "--data", shed.folder()}), 0);
}

}  // namespace
}  // namespace swardwalk::mobile
