#include <gtest/gtest.h>

#include <QDir>
#include <QFile>
#include <QFileInfo>
#include <QRegularExpression>
#include <QTcpServer>
#include <QTcpSocket>
#include <QTemporaryDir>
#include <QUrl>
#include <random>

#include "common/exchange/compression.h"
#include "common/exchange/exchange.h"
#include "common/journal/folder.h"
#include "mobile/patches/patches_model.h"
#include "mobile/patches/same_model.h"
#include "tests/mobile/real_sheds.h"
#include "tests/mobile/trial_course.h"

namespace swardwalk::mobile {
namespace {

/// A shed inside this program, with a clock of our own: the answering side of common
/// behind the smallest HTTP server that does.
class NearShed {
 public:
  explicit NearShed(std::int64_t wall_ms)
      : journal_(
            *journal::openFolder(folder_.path().toStdString(), journal::Missing::make, fold_)) {
    options_.wall_ms = wall_ms;
    server_.listen(QHostAddress::LocalHost);
    QObject::connect(&server_, &QTcpServer::newConnection, &server_, [this] {
      auto* socket = server_.nextPendingConnection();
      auto heard = std::make_shared<QByteArray>();
      QObject::connect(socket, &QIODevice::readyRead, socket, [this, socket, heard] {
        heard->append(socket->readAll());
        serve(*socket, *heard);
      });
    });
  }
  QString address() const { return QString("http://127.0.0.1:%1").arg(server_.serverPort()); }
  journal::Journal& journal() { return journal_; }
  /// From now on answers break off after so many bytes of their body.
  void cutAnswersAt(qsizetype bytes) { cut_bytes_ = bytes; }

 private:
  void serve(QTcpSocket& socket, QByteArray& heard) {
    const auto head = heard.indexOf("\r\n\r\n");
    if (head < 0) return;
    static const QRegularExpression length("content-length: *(\\d+)",
                                           QRegularExpression::CaseInsensitiveOption);
    const auto size = length.match(QString::fromLatin1(heard.left(head))).captured(1).toInt();
    if (heard.size() < head + 4 + size) return;
    const QByteArray body = heard.mid(head + 4, size);
    heard.clear();
    exchange::MessageReader reader;
    const auto lines = exchange::decompress({body.constData(), std::size_t(body.size())},
                                            exchange::limits::messageBytes);
    if (!lines || !reader.take(*lines)) return socket.abort();
    exchange::Message question{*reader.hello(), reader.takeRuns()};
    const auto answer = exchange::answer(journal_, question, options_);
    if (!answer) {
      const QByteArray reason = QByteArray("{\"reason\":\"") + answer.error().what.c_str() + "\"}";
      socket.write("HTTP/1.1 409 Conflict\r\nContent-Length: " + QByteArray::number(reason.size()) +
                   "\r\n\r\n" + reason);
      return;
    }
    const QByteArray reply =
        QByteArray::fromStdString(exchange::compress(exchange::write(answer->message)));
    socket.write("HTTP/1.1 200 OK\r\nContent-Length: " + QByteArray::number(reply.size()) +
                 "\r\n\r\n" + reply.left(cut_bytes_.value_or(reply.size())));
    if (cut_bytes_ && *cut_bytes_ < reply.size()) socket.disconnectFromHost();
  }

  QTemporaryDir folder_;
  course::CourseFold fold_;
  journal::Journal journal_;
  exchange::AnswerOptions options_;
  std::optional<qsizetype> cut_bytes_;
  QTcpServer server_;
};

TEST(ShedPage, WithoutAnAddressThereIsNothingToStart) {
  Trial trial(Trial::Begin::withCourse);
  EXPECT_FALSE(trial.app().shed().show().canStart);
  EXPECT_EQ(trial.app().shed().show().title, "No shed yet");
  trial.app().shed().setAddress("127.0.0.1:8080");
  EXPECT_TRUE(trial.app().shed().show().canStart);
}

TEST(ShedPage, ShowsWhatOnlyThisTabletHolds) {
  Trial trial(Trial::Begin::withCourse);
  auto* rows = trial.app().shed().onlyHere();
  const int count = rows->roleNames().key("count");
  EXPECT_EQ(rows->data(rows->index(0, 0), count).toString(), "16") << "sightings";
  EXPECT_EQ(rows->data(rows->index(1, 0), count).toString(), "1") << "repairs";
  EXPECT_EQ(rows->data(rows->index(2, 0), count).toString(), "2") << "rounds";
  EXPECT_TRUE(trial.app().shell().onlyHere().endsWith("records only on this tablet"));
}

TEST(ShedPage, AShedThatDoesNotAnswerIsSaidInWordsAndNothingIsLost) {
  Trial trial(Trial::Begin::withCourse);
  QTcpServer closed;
  ASSERT_TRUE(closed.listen(QHostAddress::LocalHost));
  const auto port = closed.serverPort();
  closed.close();
  trial.app().shed().setAddress(QString("http://127.0.0.1:%1").arg(port));
  const auto records = trial.app().store().journal().recordCount();
  trial.app().shed().exchangeNow();
  ASSERT_TRUE(waitUntil([&] { return !trial.app().shed().show().running; }));
  EXPECT_EQ(trial.app().shed().show().title, "The shed does not answer at 127.0.0.1");
  EXPECT_EQ(trial.app().store().journal().recordCount(), records);
}

TEST(ShedPage, AServerThatSpeaksNonsenseIsRefused) {
  Trial trial(Trial::Begin::withCourse);
  QTcpServer server;
  ASSERT_TRUE(server.listen(QHostAddress::LocalHost));
  QObject::connect(&server, &QTcpServer::newConnection, &server, [&server] {
    auto* socket = server.nextPendingConnection();
    QObject::connect(socket, &QIODevice::readyRead, socket, [socket] {
      socket->readAll();
      socket->write("HTTP/1.1 200 OK\r\nContent-Length: 5\r\nConnection: close\r\n\r\nhello");
      socket->disconnectFromHost();
    });
  });
  trial.app().shed().setAddress(QString("http://127.0.0.1:%1").arg(server.serverPort()));
  trial.app().shed().exchangeNow();
  ASSERT_TRUE(waitUntil([&] { return !trial.app().shed().show().running; }));
  EXPECT_FALSE(trial.app().shed().show().title.isEmpty());
  EXPECT_NE(trial.app().shed().show().title, "All exchanged");
}

TEST(ShedPage, StoppingIsSafe) {
  Trial trial(Trial::Begin::withCourse);
  QTcpServer silent;
  ASSERT_TRUE(silent.listen(QHostAddress::LocalHost));
  trial.app().shed().setAddress(QString("http://127.0.0.1:%1").arg(silent.serverPort()));
  trial.app().shed().exchangeNow();
  EXPECT_TRUE(trial.app().shed().show().running);
  EXPECT_EQ(trial.app().shell().network(), "In the shed's Wi-Fi");
  trial.app().shed().stop();
  EXPECT_FALSE(trial.app().shed().show().running);
  EXPECT_EQ(trial.app().shed().show().title, "Stopped");
}

TEST(ShedPairing, APastedTextPairsAndTheTabletExchangesEncrypted) {
  GuardedShed shed;
  Trial trial(Trial::Begin::withCourse);
  ShedModel& page = trial.app().shed();
  page.setAddress(shed.card());
  EXPECT_EQ(page.address(), shed.address());
  EXPECT_EQ(page.fingerprint(), shed.fingerprint());
  ASSERT_TRUE(page.show().canPair);
  page.pairNow();
  ASSERT_TRUE(settles(trial));
  ASSERT_EQ(page.show().title, "Paired with the shed") << page.show().second.toStdString();
  EXPECT_TRUE(page.show().pairedLine.contains(shed.fingerprint().left(16)));
  page.exchangeNow();
  ASSERT_TRUE(settles(trial));
  ASSERT_EQ(page.show().title, "All exchanged") << page.show().second.toStdString();
  EXPECT_EQ(trial.app().shell().onlyHere(), "");
  const QFileInfo kept(trial.app().store().directory() + "/shed.json");
  EXPECT_EQ(kept.permissions() & (QFile::ReadGroup | QFile::ReadOther), 0);
}

TEST(ShedPairing, AnotherCertificateIsSaidAndNothingIsSent) {
  GuardedShed known;
  GuardedShed other;
  Trial trial(Trial::Begin::withCourse);
  ShedModel& page = trial.app().shed();
  page.setAddress(known.card());
  page.pairNow();
  ASSERT_TRUE(settles(trial));
  page.setAddress(other.address());
  page.exchangeNow();
  ASSERT_TRUE(settles(trial));
  EXPECT_EQ(page.show().title, "This is not the shed that this tablet knows");
  EXPECT_TRUE(page.show().second.contains(other.fingerprint().left(16)));
  // The other shed saw no exchange: it is as blank as it was.
  EXPECT_TRUE(other.command({"check", "--format", "json"}).contains("\"records\":0"));
  // The known one is met as before: there is nothing to click away.
  page.setAddress(known.address());
  page.exchangeNow();
  ASSERT_TRUE(settles(trial));
  EXPECT_EQ(page.show().title, "All exchanged") << page.show().second.toStdString();
}

TEST(ShedPairing, AWrongFingerprintPairsWithNobody) {
  GuardedShed shed;
  Trial trial(Trial::Begin::withCourse);
  ShedModel& page = trial.app().shed();
  page.setAddress(shed.card());
  page.setFingerprint(QString(64, 'a'));
  page.pairNow();
  ASSERT_TRUE(settles(trial));
  EXPECT_EQ(page.show().title, "This is not the shed that this tablet knows");
  EXPECT_EQ(page.show().pairedLine, "");
  // The code was not sent and so is not used up.
  page.setFingerprint(shed.fingerprint());
  page.pairNow();
  ASSERT_TRUE(settles(trial));
  EXPECT_EQ(page.show().title, "Paired with the shed") << page.show().second.toStdString();
}

TEST(ShedPairing, WithoutItAnEncryptedShedIsNotAsked) {
  GuardedShed shed;
  Trial trial(Trial::Begin::withCourse);
  ShedModel& page = trial.app().shed();
  page.setAddress(shed.address());
  EXPECT_TRUE(page.show().encrypted);
  EXPECT_FALSE(page.show().canPair);
  page.exchangeNow();
  ASSERT_TRUE(settles(trial));
  EXPECT_EQ(page.show().title, "This tablet is not paired with the shed");
  page.setCode("0000-0000");
  page.setFingerprint(shed.fingerprint());
  page.pairNow();
  ASSERT_TRUE(settles(trial));
  EXPECT_TRUE(page.show().title.contains("wrong, used, or older"))
      << page.show().title.toStdString();
}

TEST(ShedPairing, ATabletThatWasShutOutIsToldAndKeepsItsRecords) {
  GuardedShed shed;
  Trial trial(Trial::Begin::withCourse);
  ShedModel& page = trial.app().shed();
  page.setAddress(shed.card());
  page.pairNow();
  ASSERT_TRUE(settles(trial));
  page.exchangeNow();
  ASSERT_TRUE(settles(trial));
  const auto origin = journal::hex(trial.app().store().journal().origin());
  shed.command({"shut-out", QString::fromStdString(origin)});
  page.exchangeNow();
  ASSERT_TRUE(settles(trial));
  EXPECT_TRUE(page.show().title.contains("shut out")) << page.show().title.toStdString();
}

TEST(ShedAddress, OnANetworkItIsEncryptedUnlessItSaysOtherwise) {
  EXPECT_EQ(shedAddress("127.0.0.1:8137").scheme(), "http");
  EXPECT_EQ(shedAddress("localhost:8137").scheme(), "http");
  EXPECT_EQ(shedAddress("192.0.2.7:8137").scheme(), "https");
  EXPECT_EQ(shedAddress("shed.example:8137").scheme(), "https");
}

TEST(ShedExchange, GivesAllToTheShedAndABlankTabletTakesItThere) {
  Shed shed;
  ASSERT_FALSE(shed.address().isEmpty());
  Trial first(Trial::Begin::withCourse);
  first.app().shed().setAddress(shed.address());
  first.app().shed().exchangeNow();
  ASSERT_TRUE(waitUntil([&] { return !first.app().shed().show().running; }));
  ASSERT_EQ(first.app().shed().show().title, "All exchanged")
      << first.app().shed().show().second.toStdString();
  EXPECT_EQ(first.app().shell().onlyHere(), "");

  Trial second(Trial::Begin::blank);
  second.app().shed().setAddress(shed.address());
  second.app().shed().exchangeNow();
  ASSERT_TRUE(waitUntil([&] { return !second.app().shed().show().running; }));
  ASSERT_EQ(second.app().shed().show().title, "All exchanged")
      << second.app().shed().show().second.toStdString();
  EXPECT_EQ(second.app().store().state().patches.size(),
            first.app().store().state().patches.size());
  EXPECT_EQ(second.app().walk().show().green, "Hollow");

  // What the second one sees reaches the first.
  second.app().walk().mark();
  second.app().mark().chooseKind(Show::Bare);
  ASSERT_TRUE(second.app().mark().save());
  // The sighting, the record with which every tablet begins, and the one with its writer's name.
  EXPECT_EQ(second.app().shell().onlyHere(), "3 records only on this tablet");
  second.app().shed().exchangeNow();
  ASSERT_TRUE(waitUntil([&] { return !second.app().shed().show().running; }));
  first.app().shed().exchangeNow();
  ASSERT_TRUE(waitUntil([&] { return !first.app().shed().show().running; }));
  EXPECT_EQ(first.app().store().state().patches.size(),
            second.app().store().state().patches.size());
  EXPECT_EQ(first.app().store().journal().vector(), second.app().store().journal().vector());
}

QString cell(QAbstractItemModel* rows, int row, const char* column) {
  return rows->data(rows->index(row, 0), rows->roleNames().key(column)).toString();
}

// X4: two crews mark one hole, each with a mark of its own; the one who meets the shed last
// is asked, and decides.
TEST(ShedExchange, WhatTwoCrewsMayHaveMarkedAsOneIsAskedAfterJournalsMet) {
  NearShed shed(trialNow().time_since_epoch().count());
  Trial first(Trial::Begin::withCourse);
  Options other;
  other.device = "Tablet of the other crew";
  Trial second(Trial::Begin::blank, other);
  const auto meet = [&](Trial& crew) {
    crew.app().shed().setAddress(shed.address());
    crew.app().shed().exchangeNow();
    return settles(crew) && crew.app().shed().show().title == "All exchanged";
  };
  const auto mark = [](Trial& crew, const char* patch, const char* label, double east_m) {
    course::Sighting sighting;
    sighting.patch = patch;
    sighting.label = label;
    sighting.green = "North";
    sighting.kind = turf::Kind::dug;
    sighting.seen = crew.app().store().now();
    sighting.point = trialPlace(east_m, 5);
    sighting.accuracy_m = 0.3;
    sighting.tape = course::TapeSize{geo::TapeForm::ellipse, 0.5, 0.5};
    return crew.app()
        .store()
        .write([&](course::Recorder& recorder) { return recorder.sighting(sighting); })
        .has_value();
  };
  ASSERT_TRUE(meet(first));
  ASSERT_TRUE(meet(second));
  EXPECT_EQ(second.app().shed().same()->rowCount(), 0) << "one crew alone asks nothing";
  ASSERT_TRUE(mark(first, "n20", "N20", 56.0));
  ASSERT_TRUE(mark(second, "n21", "N21", 56.2));
  ASSERT_TRUE(meet(first));
  EXPECT_EQ(first.app().shed().same()->rowCount(), 0) << "the other has not met the shed yet";
  ASSERT_TRUE(meet(second));
  ShedModel& page = second.app().shed();
  ASSERT_EQ(page.same()->rowCount(), 1);
  EXPECT_EQ(cell(page.same(), 0, "title"), "North 20 and North 21 may be one patch");
  EXPECT_TRUE(cell(page.same(), 0, "reason").startsWith("0.2 m away"))
      << cell(page.same(), 0, "reason").toStdString();

  page.decide(cell(page.same(), 0, "patch"), cell(page.same(), 0, "other"));
  EXPECT_EQ(second.app().shell().page(), Shell::Patches);
  auto* patches = second.app().windowProperties()["patches"].value<PatchesModel*>();
  ASSERT_NE(patches, nullptr);
  ASSERT_TRUE(patches->same()->show().asked);
  ASSERT_TRUE(patches->same()->join());
  EXPECT_EQ(page.same()->rowCount(), 0) << "joined, asked no more";
  ASSERT_TRUE(patches->same()->takeBack());
  EXPECT_EQ(page.same()->rowCount(), 1) << "two again";
  ASSERT_TRUE(meet(second));
  EXPECT_EQ(page.same()->rowCount(), 0) << "asked once; Patches goes on asking";
}

TEST(ShedExchange, AnAnswerThatIsCutLeavesWhatCameWholeAndTheNextOneGoesOn) {
  NearShed shed(trialNow().time_since_epoch().count());
  // Two tablets with long notes, which compression cannot put into one block.
  std::mt19937 draw(11);
  for (int tablet = 0; tablet < 2; ++tablet) {
    Trial crew(tablet == 0 ? Trial::Begin::withCourse : Trial::Begin::blank);
    crew.app().shed().setAddress(shed.address());
    const auto meet = [&] {
      crew.app().shed().exchangeNow();
      ASSERT_TRUE(waitUntil([&] { return !crew.app().shed().show().running; }));
      ASSERT_EQ(crew.app().shed().show().title, "All exchanged");
    };
    meet();
    for (int i = 0; i < 100; ++i) {
      QString note(3500, ' ');
      for (QChar& letter : note) letter = QChar(u'a' + static_cast<int>(draw() % 26));
      crew.app().walk().mark();
      crew.app().mark().chooseKind(Show::Bare);
      crew.app().mark().setNote(note);
      ASSERT_TRUE(crew.app().mark().save());
    }
    meet();
  }
  Trial blank(Trial::Begin::blank);
  blank.app().shed().setAddress(shed.address());
  shed.cutAnswersAt(300'000);
  blank.app().shed().exchangeNow();
  ASSERT_TRUE(waitUntil([&] { return !blank.app().shed().show().running; }));
  EXPECT_EQ(blank.app().shed().show().title, "The line to the shed broke");
  const auto kept = blank.app().store().journal().recordCount();
  EXPECT_GT(kept, 100u) << "the first tablet's run came whole";
  EXPECT_LT(kept, shed.journal().recordCount());

  shed.cutAnswersAt(10'000'000);
  blank.app().shed().exchangeNow();
  ASSERT_TRUE(waitUntil([&] { return !blank.app().shed().show().running; }));
  EXPECT_EQ(blank.app().shed().show().title, "All exchanged");
  EXPECT_EQ(blank.app().store().journal().vector(), shed.journal().vector());
}

TEST(ShedExchange, AClockThatIsHoursOffIsSaid) {
  Options running;
  Trial trial(Trial::Begin::withCourse, running, Trial::Clockwork::running);
  NearShed shed(Clock().now_ms() + 11'520'000);
  trial.app().shed().setAddress(shed.address());
  trial.app().shed().exchangeNow();
  ASSERT_TRUE(waitUntil([&] { return !trial.app().shed().show().running; }));
  auto* alarms = trial.app().shed().alarms();
  ASSERT_EQ(alarms->rowCount(), 1) << trial.app().shed().show().title.toStdString();
  const QString title =
      alarms->data(alarms->index(0, 0), alarms->roleNames().key("title")).toString();
  EXPECT_EQ(title, "Clock 3 h 12 min slow");
  EXPECT_GT(trial.app().store().now() - trial.app().clock().now(), std::chrono::hours(3));
}

TEST(ShedExchange, ACopiedTabletWritesOnUnderANewKey) {
  NearShed shed(trialNow().time_since_epoch().count());
  Trial trial(Trial::Begin::withCourse);
  trial.app().shed().setAddress(shed.address());
  // The folder is copied, then both write.
  QTemporaryDir copy;
  for (const QString& name : QDir(trial.folder()).entryList(QDir::Files)) {
    QFile::copy(QDir(trial.folder()).filePath(name), copy.filePath(name));
  }
  const auto mark = [](App& app) {
    app.walk().mark();
    app.mark().chooseKind(Show::Bare);
    return app.mark().save();
  };
  ASSERT_TRUE(mark(trial.app()));
  const auto meet = [](App& app) {
    app.shed().exchangeNow();
    return waitUntil([&] { return !app.shed().show().running; });
  };
  ASSERT_TRUE(meet(trial.app()));

  App twin(copy.path(), {}, Clock(trialNow()), std::make_unique<ScriptedSource>());
  twin.shed().setAddress(shed.address());
  const auto before = twin.store().journal().origin();
  ASSERT_TRUE(mark(twin));
  ASSERT_TRUE(meet(twin));
  EXPECT_NE(twin.store().journal().origin(), before) << "it writes on under a new key (X3)";
  // Neither can know which of them is the copy: both go on under keys of their own, and
  // one more meeting each carries their new first records.
  for (int i = 0; i < 2; ++i) {
    ASSERT_TRUE(meet(twin));
    ASSERT_TRUE(meet(trial.app()));
  }
  ASSERT_TRUE(meet(twin));
  EXPECT_EQ(twin.store().journal().vector(), trial.app().store().journal().vector())
      << "both branches are kept";
}

}  // namespace
}  // namespace swardwalk::mobile
