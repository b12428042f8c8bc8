#include "mobile/position/external_source.h"

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <pty.h>
#include <unistd.h>

#include <QCoreApplication>
#include <QElapsedTimer>
#include <QTcpServer>
#include <QTcpSocket>
#include <functional>
#include <string>
#include <vector>

#include "mobile/app/options.h"
#include "mobile/position/whereabouts.h"

namespace swardwalk::mobile {
namespace {

using namespace std::chrono_literals;

/// A sentence with its checksum and line end.
std::string sentence(const std::string& body) {
  unsigned sum = 0;
  for (const char sign : body) sum ^= static_cast<unsigned char>(sign);
  return fmt::format("${}*{:02X}\r\n", body, sum);
}

/// One second of a receiver: quality as in GGA (1 none, 4 fixed, 5 float).
std::string epoch(int second, int quality, bool withGst) {
  const std::string time = fmt::format("0640{:02}.00", second);
  std::string text =
      sentence(fmt::format("GNRMC,{},A,5512.0000,N,00306.0000,W,1.0,90.0,290427,,,A", time)) +
      sentence(
          fmt::format("GNGGA,{},5512.0000,N,00306.0000,W,{},18,0.8,40.0,M,,M,,", time, quality));
  if (withGst) text += sentence(fmt::format("GNGST,{},,,,,0.03,0.04,0.05", time));
  return text;
}

/// Lets events run until something holds, for two seconds at most.
bool until(const std::function<bool()>& holds) {
  QElapsedTimer timer;
  timer.start();
  while (!holds() && timer.elapsed() < 2000) {
    QCoreApplication::processEvents(QEventLoop::AllEvents, 10);
  }
  return holds();
}

/// What a source said.
struct Heard {
  explicit Heard(PositionSource& source) {
    QObject::connect(&source, &PositionSource::fix, &source,
                     [this](const geo::Fix& fix) { fixes.push_back(fix); });
    QObject::connect(&source, &PositionSource::trouble, &source,
                     [this](const QString& words) { troubles.push_back(words.toStdString()); });
  }
  std::vector<geo::Fix> fixes;
  std::vector<std::string> troubles;
};

constexpr ExternalSource::Patience quick{50ms, 10s, 30ms};

/// A receiver that sends over TCP.
class Rover {
 public:
  bool listen(quint16 port = 0) { return server_.listen(QHostAddress::LocalHost, port); }
  ReceiverAddress address() const {
    return {ReceiverAddress::Way::tcp, QStringLiteral("127.0.0.1"), server_.serverPort(), 0};
  }
  bool meets() {
    return until([this] {
      if (socket_ == nullptr) socket_ = server_.nextPendingConnection();
      return socket_ != nullptr;
    });
  }
  void send(const std::string& text) {
    socket_->write(text.data(), static_cast<qint64>(text.size()));
    socket_->flush();
  }
  void hangUp() {
    socket_->abort();
    socket_ = nullptr;
  }
  void close() {
    hangUp();
    server_.close();
  }

 private:
  QTcpServer server_;
  QTcpSocket* socket_ = nullptr;
};

TEST(ExternalSource, OverTcpGivesFixesWithTheAccuracyThatGstStates) {
  Rover rover;
  ASSERT_TRUE(rover.listen());
  ExternalSource source(rover.address(), quick);
  const Heard heard(source);
  source.start();
  ASSERT_TRUE(rover.meets());
  rover.send(epoch(0, 4, true));
  // Complete once the receiver pauses, not only with the next second.
  ASSERT_TRUE(until([&] { return heard.fixes.size() == 1; }));
  EXPECT_NEAR(heard.fixes[0].accuracy_m.value(), std::sqrt(0.5 * (0.03 * 0.03 + 0.04 * 0.04)),
              1e-9);
  EXPECT_EQ(heard.fixes[0].quality, geo::FixQuality::fixed);
  EXPECT_NEAR(heard.fixes[0].position.latitude_deg, 55.2, 1e-9);
  rover.send(epoch(1, 1, false));
  ASSERT_TRUE(until([&] { return heard.fixes.size() == 2; }));
  EXPECT_NEAR(heard.fixes[1].accuracy_m.value(), 0.8 * geo::NmeaReader::usualRangeError_m, 1e-9);
  EXPECT_TRUE(heard.troubles.empty());
}

TEST(ExternalSource, SentencesThatCameDamagedAreCountedAndNotBelieved) {
  Rover rover;
  ASSERT_TRUE(rover.listen());
  ExternalSource source(rover.address(), quick);
  const Heard heard(source);
  source.start();
  ASSERT_TRUE(rover.meets());
  std::string damaged = epoch(0, 4, true);
  damaged[damaged.rfind("5512")] = '6';
  rover.send(damaged.substr(0, 40));  // cut anywhere
  rover.send(damaged.substr(40) + epoch(1, 4, true));
  ASSERT_TRUE(until([&] { return heard.fixes.size() == 2; }));
  EXPECT_EQ(source.damaged(), 1);
  EXPECT_EQ(source.sentences(), 5);
  EXPECT_NEAR(heard.fixes[0].position.latitude_deg, 55.2, 1e-9);
}

TEST(ExternalSource, NoiseWithoutALineEndIsCountedAndDoesNotGrow) {
  Rover rover;
  ASSERT_TRUE(rover.listen());
  ExternalSource source(rover.address(), quick);
  const Heard heard(source);
  source.start();
  ASSERT_TRUE(rover.meets());
  rover.send(std::string(100'000, '\xff'));
  ASSERT_TRUE(until([&] { return source.damaged() > 0; }));
  rover.send('\n' + epoch(0, 4, true));
  EXPECT_TRUE(until([&] { return heard.fixes.size() == 1; }));
}

TEST(ExternalSource, ALineThatIsLostIsSaidAndOpenedAgain) {
  Rover rover;
  ASSERT_TRUE(rover.listen());
  const ReceiverAddress address = rover.address();
  ExternalSource source(address, quick);
  const Heard heard(source);
  source.start();
  ASSERT_TRUE(rover.meets());
  rover.close();
  ASSERT_TRUE(until([&] { return heard.troubles.size() >= 2; })) << "lost, then refused";
  EXPECT_EQ(heard.troubles[0],
            fmt::format("the receiver at 127.0.0.1:{} hung up; it is tried again every second",
                        address.port));
  EXPECT_NE(heard.troubles[1].find("does not answer"), std::string::npos) << heard.troubles[1];
  ASSERT_TRUE(rover.listen(static_cast<quint16>(address.port)));
  ASSERT_TRUE(rover.meets());
  rover.send(epoch(5, 5, true));
  EXPECT_TRUE(until([&] { return heard.fixes.size() == 1; }));
}

TEST(ExternalSource, SilenceAndWhatIsNoNmeaAreSaid) {
  Rover rover;
  ASSERT_TRUE(rover.listen());
  ExternalSource source(rover.address(), {10s, 100ms, 30ms});
  const Heard heard(source);
  source.start();
  ASSERT_TRUE(rover.meets());
  ASSERT_TRUE(until([&] { return heard.troubles.size() == 1; }));
  EXPECT_NE(heard.troubles[0].find("is silent"), std::string::npos);
}

TEST(ExternalSource, ReadsASerialLineAndSaysWhenItIsPulledOut) {
  int receiver = -1;
  int tablet = -1;
  char name[256] = {};
  ASSERT_EQ(openpty(&receiver, &tablet, name, nullptr, nullptr), 0);
  ExternalSource source(*parseReceiver(QStringLiteral("serial:%1:115200").arg(name)), quick);
  const Heard heard(source);
  source.start();
  const std::string text = epoch(0, 4, true);
  ASSERT_EQ(write(receiver, text.data(), text.size()), static_cast<ssize_t>(text.size()));
  EXPECT_TRUE(until([&] { return heard.fixes.size() == 1; }));
  EXPECT_TRUE(heard.troubles.empty());
  close(tablet);
  close(receiver);
  ASSERT_TRUE(until([&] { return !heard.troubles.empty(); }));
  EXPECT_NE(heard.troubles[0].find("was lost"), std::string::npos) << heard.troubles[0];
}

TEST(ExternalSource, ADeviceThatIsNotThereIsSaid) {
  ExternalSource source(*parseReceiver("serial:/dev/no-such-receiver"), quick);
  const Heard heard(source);
  source.start();
  ASSERT_FALSE(heard.troubles.empty());
  EXPECT_EQ(heard.troubles[0],
            "the receiver at /dev/no-such-receiver at 9600 baud is not plugged in; it is tried "
            "again every second");
}

TEST(ExternalSource, WhereaboutsSayQualityDamageAndLossInWords) {
  Rover rover;
  ASSERT_TRUE(rover.listen());
  ExternalSource source(rover.address(), quick);
  Clock clock(*measure::parseInstant("2027-04-29T06:40:00Z"));
  Whereabouts where(source, clock);
  EXPECT_TRUE(where.receiver().startsWith("Positions come from the receiver at 127.0.0.1:"));
  source.start();
  ASSERT_TRUE(rover.meets());
  const std::vector<std::pair<int, const char*>> qualities = {
      {1, "No RTK."}, {5, "RTK float, "}, {4, "RTK fixed, "}};
  int second = 0;
  for (const auto& [quality, words] : qualities) {
    rover.send("$GNGGA,damaged*00\r\n" + epoch(++second, quality, true));
    const char* expected = words;
    EXPECT_TRUE(until([&] { return where.receiver().contains(expected); })) << words;
  }
  EXPECT_TRUE(where.receiver().contains("3 of 12 sentences came damaged and were left out."))
      << where.receiver().toStdString();
  EXPECT_EQ(where.line(), "± 0.04 m (RTK fixed), 0 s old");
  rover.close();
  ASSERT_TRUE(until([&] { return where.receiver().contains("hung up"); }));
  clock.moveTo(clock.now() + 20s);
  EXPECT_EQ(where.state(), Whereabouts::Lost);
  EXPECT_TRUE(where.reason().startsWith("The receiver at 127.0.0.1:"))
      << where.reason().toStdString();
}

TEST(ReceiverAddress, IsReadAsItIsGiven) {
  const auto tcp = parseOptions({"--receiver", "tcp:rover.local:5000"});
  ASSERT_TRUE(tcp);
  EXPECT_EQ(tcp->receiver->words(), "rover.local:5000");
  EXPECT_EQ(parseReceiver("tcp:[::1]:5000")->place, "::1");
  const auto serial = parseReceiver("serial:/dev/ttyUSB0:115200");
  ASSERT_TRUE(serial);
  EXPECT_EQ(serial->words(), "/dev/ttyUSB0 at 115200 baud");
  EXPECT_EQ(parseReceiver("serial:/dev/serial/by-path/pci-0000:00:14.0")->place,
            "/dev/serial/by-path/pci-0000:00:14.0");
  const auto file = parseOptions({"--receiver", "file:walk.nmea"});
  ASSERT_TRUE(file);
  EXPECT_EQ(file->nmea, "walk.nmea");
  EXPECT_FALSE(file->receiver);
}

TEST(ReceiverAddress, WhatIsNoneIsRefusedInOneLine) {
  for (const char* wrong : {"", "tcp", "tcp:", "tcp:host", "tcp:host:0", "tcp:host:70000",
                            "tcp::5000", "serial:", "serial:/dev/ttyUSB0:1", "file:", "usb:1"}) {
    const auto address = parseReceiver(wrong);
    ASSERT_FALSE(address) << wrong;
    EXPECT_EQ(address.error().text().find('\n'), std::string::npos);
  }
  EXPECT_FALSE(parseOptions({"--receiver", "tcp:a:1", "--nmea", "b"}));
}

}  // namespace
}  // namespace swardwalk::mobile
