#include "mobile/shed/shed_line.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <QNetworkReply>
#include <QTcpServer>
#include <QTcpSocket>
#include <deque>

#include "tests/mobile/real_sheds.h"

namespace swardwalk::mobile {
namespace {

using std::chrono::milliseconds;
using testing::ElementsAre;
using testing::HasSubstr;

constexpr exchange::BusyWait::Limits quick{milliseconds(1), milliseconds(1), milliseconds(20)};

/// Answers every question with the next of `answers`, the last one for ever.
class ScriptedShed {
 public:
  ScriptedShed() {
    server_.listen(QHostAddress::LocalHost);
    QObject::connect(&server_, &QTcpServer::newConnection, &server_, [this] {
      auto* socket = server_.nextPendingConnection();
      QObject::connect(socket, &QIODevice::readyRead, socket, [this, socket] {
        heard_ += socket->readAll();
        if (!heard_.endsWith("question")) return;
        questions.push_back(heard_.mid(heard_.indexOf("\r\n\r\n") + 4).toStdString());
        heard_.clear();
        socket->write(answers.front());
        if (answers.size() > 1) answers.pop_front();
        if (longAnswer_bytes == 0) return socket->disconnectFromHost();
        QObject::connect(socket, &QIODevice::bytesWritten, socket, [this, socket] {
          if (socket->bytesToWrite() > 0) return;
          if (sent_bytes >= longAnswer_bytes) return socket->disconnectFromHost();
          const QByteArray piece(1 << 20, 'x');
          sent_bytes += piece.size();
          socket->write(piece);
        });
      });
    });
  }
  QUrl address() const { return QUrl(QString("http://127.0.0.1:%1/").arg(server_.serverPort())); }

  std::deque<QByteArray> answers;
  std::vector<std::string> questions;
  qint64 longAnswer_bytes = 0;  ///< so much follows an answer, unless nobody wants it
  qint64 sent_bytes = 0;

 private:
  QTcpServer server_;
  QByteArray heard_;
};

QByteArray answer(const char* status, const QByteArray& body) {
  return QByteArray("HTTP/1.1 ") + status +
         "\r\nConnection: close\r\nContent-Length: " + QByteArray::number(body.size()) +
         "\r\n\r\n" + body;
}

class ShedLineTest : public testing::Test {
 protected:
  ShedLineTest() {
    QObject::connect(&line, &ShedLine::answered, &line, [this](QNetworkReply& reply) {
      status = ShedLine::statusOf(reply);
      if (status == 200) {
        body = reply.readAll();
      } else {
        trouble = line.trouble(reply).what;
      }
    });
  }
  void ask() {
    line.post(shed.address(), "text/plain", "question");
    ASSERT_TRUE(waitUntil([&] { return status >= 0; }));
  }

  const QByteArray busy = answer("503 Service Unavailable", R"({"reason":"is busy with others"})");
  ScriptedShed shed;
  ShedLine line{nullptr, quick};
  int status = -1;
  QByteArray body;
  std::string trouble;
};

TEST_F(ShedLineTest, ABusyShedIsAskedAgainTheSame) {
  shed.answers = {busy, busy, answer("200 OK", "held")};
  ask();
  EXPECT_EQ(body, "held");
  EXPECT_THAT(shed.questions, ElementsAre("question", "question", "question"));
  EXPECT_FALSE(line.waits());
}

TEST_F(ShedLineTest, OneThatStaysBusyIsSaidInItsOwnWords) {
  shed.answers = {busy};
  ask();
  EXPECT_EQ(status, 503);
  EXPECT_EQ(trouble, "is busy with others");
  EXPECT_GE(shed.questions.size(), 10U);
}

TEST_F(ShedLineTest, HangingUpEndsTheWaiting) {
  shed.answers = {
      answer("503 Service Unavailable", "").replace("\r\n\r\n", "\r\nRetry-After: 60\r\n\r\n")};
  ShedLine patient;
  patient.post(shed.address(), "text/plain", "question");
  ASSERT_TRUE(waitUntil([&] { return patient.waits(); }));
  patient.hangUp();
  EXPECT_FALSE(patient.waits());
}

TEST_F(ShedLineTest, ARefusalWithoutEndIsCutOff) {
  shed.answers = {"HTTP/1.1 400 Bad Request\r\nContent-Length: 100000000\r\n\r\n"};
  shed.longAnswer_bytes = 64 << 20;
  ask();
  EXPECT_EQ(status, 400);
  EXPECT_THAT(trouble, HasSubstr("refused the exchange (400)"));
  EXPECT_LT(shed.sent_bytes, shed.longAnswer_bytes);
}

}  // namespace
}  // namespace swardwalk::mobile
