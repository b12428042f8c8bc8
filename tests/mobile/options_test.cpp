#include <gtest/gtest.h>

#include <QFile>
#include <QTemporaryDir>

#include "mobile/app/number_field.h"
#include "mobile/app/options.h"
#include "mobile/position/replay_source.h"
#include "mobile/position/whereabouts.h"
#include "mobile/shed/shed_model.h"

namespace swardwalk::mobile {
namespace {

TEST(Options, AreReadAsTheyAreGiven) {
  const auto options = parseOptions({"--data", "d", "--theme", "dark", "--portrait", "--letter",
                                     "b", "--pace", "fast", "--now", "2027-04-29T06:42:00+01:00"});
  ASSERT_TRUE(options);
  EXPECT_EQ(options->data, "d");
  EXPECT_EQ(options->dark, true);
  EXPECT_EQ(options->size, QSize(800, 1280));
  EXPECT_EQ(options->letter, "b");
  EXPECT_TRUE(options->fast);
  ASSERT_TRUE(options->now);
}

TEST(Options, WrongOnesAreRefusedInOneLine) {
  for (const QStringList& wrong :
       {QStringList{"--no-such-thing"}, QStringList{"--theme", "night"},
        QStringList{"--size", "12"}, QStringList{"--pace", "slow"}, QStringList{"file"},
        QStringList{"--now", "tomorrow"}, QStringList{"--on", "2027-02-30"}}) {
    const auto options = parseOptions(wrong);
    ASSERT_FALSE(options) << wrong.join(' ').toStdString();
    EXPECT_EQ(options.error().text().find('\n'), std::string::npos);
  }
}

NumberField::Measured tapeLength() {
  return {"Length", measure::Quantity::length, {0.02, 2, 0.5}, {0.1, 2, 1.5}, 100};
}

TEST(NumberField, EveryImperialFigureComesBackToItsLastDigit) {
  NumberField field(tapeLength());
  field.setUnits(measure::UnitSystem::imperial);
  EXPECT_EQ(field.unit(), "ft");
  for (int hundredths = 1; hundredths <= 3000; ++hundredths) {
    const QString typed = QString::number(hundredths / 100.0, 'f', 2);
    field.beginKeys();
    for (const QChar key : typed) field.press(QString(key));
    field.acceptKeys();
    ASSERT_EQ(field.figure(), typed);
  }
  // 30 ft x 0.3048 m.
  EXPECT_NEAR(field.value().value(), 9.144, 1e-12);
}

TEST(NumberField, AnotherSystemOfUnitsChangesTheFigureAndNotTheValue) {
  NumberField field(tapeLength());
  field.set(0.51);
  field.setUnits(measure::UnitSystem::imperial);
  EXPECT_EQ(field.figure(), "1.67");
  EXPECT_EQ(field.value(), 0.51);
  field.more();
  EXPECT_EQ(field.figure(), "1.80") << "on the grid of a tenth of a foot";
}

TEST(NumberField, StepsOnItsGridAndNeverBelowNothing) {
  NumberField field(tapeLength());
  EXPECT_EQ(field.figure(), "not yet");
  field.more();
  EXPECT_EQ(field.figure(), "0.52");
  field.set(0.51);
  field.more();
  EXPECT_EQ(field.figure(), "0.54");
  field.set(0.01);
  field.less();
  field.less();
  EXPECT_EQ(field.figure(), "0.00");
}

TEST(NumberField, KeysTypeANumber) {
  NumberField field(tapeLength());
  field.beginKeys();
  for (const char* key : {".", "4", "4", "."}) field.press(key);
  EXPECT_EQ(field.typed(), "0.44");
  field.rubOut();
  field.press("8");
  field.acceptKeys();
  EXPECT_EQ(field.figure(), "0.48");
}

TEST(NumberField, KeysThatTypeNothingLeaveItUntouched) {
  NumberField field(tapeLength());
  field.beginKeys();
  field.acceptKeys();
  EXPECT_FALSE(field.known());
}

TEST(Replay, PlaysALogAsFastAsItGoes) {
  QTemporaryDir folder;
  const QString name = folder.filePath("walk.nmea");
  QFile file(name);
  ASSERT_TRUE(file.open(QIODevice::WriteOnly));
  const auto sentence = [&](const QByteArray& body) {
    unsigned char sum = 0;
    for (const char letter : body) sum ^= static_cast<unsigned char>(letter);
    file.write("$" + body + "*" + QByteArray::number(sum, 16).rightJustified(2, '0').toUpper() +
               "\r\n");
  };
  for (int second = 10; second < 15; ++second) {
    const QByteArray time = "0640" + QByteArray::number(second) + ".00";
    sentence("GNRMC," + time + ",A,5512.0000,N,00306.0000,W,1.0,90.0,290427,,,A");
    sentence("GNGGA," + time + ",5512.0000,N,00306.0000,W,1,12,0.8,50.0,M,47.0,M,,");
  }
  file.close();
  auto source = ReplaySource::read(name, ReplaySource::Pace::fast);
  ASSERT_TRUE(source) << source.error().text();
  EXPECT_EQ((*source)->fixes().size(), 5u);
  EXPECT_NEAR((*source)->fixes()[0].position.latitude_deg, 55.2, 1e-9);
}

TEST(Replay, ALogWithoutPositionsIsRefusedInWords) {
  QTemporaryDir folder;
  QFile file(folder.filePath("empty.nmea"));
  ASSERT_TRUE(file.open(QIODevice::WriteOnly));
  file.write("nothing\n");
  file.close();
  EXPECT_FALSE(ReplaySource::read(file.fileName(), ReplaySource::Pace::fast));
  EXPECT_FALSE(ReplaySource::read(folder.filePath("none"), ReplaySource::Pace::fast));
}

TEST(Spans, AreWrittenInWords) {
  EXPECT_EQ(spanWords(std::chrono::seconds(12)), "12 s");
  EXPECT_EQ(spanWords(std::chrono::seconds(130)), "2 min 10 s");
  EXPECT_EQ(spanWords(std::chrono::minutes(192)), "3 h 12 min");
}

TEST(ShedAddress, IsMadeWholeOrRefused) {
  EXPECT_EQ(shedAddress("127.0.0.1:8080").toString(), "http://127.0.0.1:8080");
  EXPECT_EQ(shedAddress(" http://shed.lan:80 ").host(), "shed.lan");
  EXPECT_TRUE(shedAddress("").isEmpty());
  EXPECT_TRUE(shedAddress("ftp://shed").isEmpty());
  EXPECT_TRUE(shedAddress("http://").isEmpty());
}

}  // namespace
}  // namespace swardwalk::mobile
