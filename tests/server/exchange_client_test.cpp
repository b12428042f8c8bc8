#include "server/http/exchange_client.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cstring>
#include <vector>

namespace swardwalk::server {
namespace {

using testing::HasSubstr;

/// What the client sends, piece by piece; says one answer to each question.
struct Seen {
  std::vector<std::string> pieces;
  std::string answer;                ///< to each question
  std::vector<std::string> answers;  ///< to the first ones, before it
  unsigned opened = 0;
};

class SeenWire final : public Wire {
 public:
  explicit SeenWire(Seen& seen) : seen_(&seen) {}

  bool isOpen() const override { return open_; }
  Result<void> open() override {
    open_ = true;
    ++seen_->opened;
    return {};
  }
  Result<void> send(std::string_view bytes) override {
    const std::size_t asked = seen_->pieces.size();
    answer_ = asked < seen_->answers.size() ? seen_->answers[asked] : seen_->answer;
    seen_->pieces.emplace_back(bytes);
    said_ = 0;
    return {};
  }
  Result<std::size_t> receive(char* into, std::size_t size) override {
    if (said_ == answer_.size()) return fail(FailureKind::io, "", "it was cut", "again");
    const std::size_t count = std::min(size, answer_.size() - said_);
    std::memcpy(into, answer_.data() + said_, count);
    said_ += count;
    return count;
  }
  void close() override { open_ = false; }

 private:
  Seen* seen_;
  bool open_ = false;
  std::string answer_;
  std::size_t said_ = 0;
};

TEST(ExchangeClient, AQuestionIsOnePieceSoThatNothingWaitsForAnAcknowledgement) {
  Seen seen;
  seen.answer = "HTTP/1.1 200 OK\r\nContent-Length: 4\r\n\r\nheld";
  ExchangeClient client(std::make_unique<SeenWire>(seen), "shed:80", "secret");
  std::string came;
  const auto take = [&](std::string_view bytes) -> Result<void> {
    came += bytes;
    return {};
  };
  ASSERT_TRUE(client.post("question", take));
  ASSERT_TRUE(client.post("question", take));
  EXPECT_EQ(came, "heldheld");
  EXPECT_EQ(seen.opened, 1u);
  ASSERT_EQ(seen.pieces.size(), 2u);
  EXPECT_THAT(seen.pieces[0], HasSubstr("Authorization: Bearer secret\r\n"));
  EXPECT_TRUE(seen.pieces[0].ends_with("\r\n\r\nquestion"));
}

TEST(ExchangeClient, AnAnswerThatIsCutEndsTheConnectionAndTheNextQuestionOpensAnother) {
  Seen seen;
  seen.answer = "HTTP/1.1 200 OK\r\nContent-Length: 40\r\n\r\nheld";
  ExchangeClient client(std::make_unique<SeenWire>(seen), "shed:80");
  const auto take = [](std::string_view) -> Result<void> { return {}; };
  EXPECT_FALSE(client.post("question", take));
  EXPECT_FALSE(client.post("question", take));
  EXPECT_EQ(seen.opened, 2u);
}

/// Asks a shed that is busy until it is not, or always; gives the waits between, in ms.
class BusyShed : public testing::Test {
 protected:
  static std::string busy(const std::string& fields) {
    return "HTTP/1.1 503 Service Unavailable\r\n" + fields +
           "Connection: close\r\nContent-Length: 36\r\n\r\n"
           R"({"error":"busy","reason":"Is busy"})"
           "\n";
  }

  Result<void> ask() {
    ExchangeClient client(std::make_unique<SeenWire>(seen), "shed:80", "",
                          [&](std::chrono::milliseconds time) { waits.push_back(time.count()); });
    return client.post("question", [&](std::string_view bytes) -> Result<void> {
      came += bytes;
      return {};
    });
  }

  Seen seen;
  std::vector<std::int64_t> waits;
  std::string came;
};

TEST_F(BusyShed, IsAskedAgainWhenItSaysSo) {
  seen.answers = {busy("Retry-After: 3\r\n"), busy("Retry-After: 3\r\n")};
  seen.answer = "HTTP/1.1 200 OK\r\nContent-Length: 4\r\n\r\nheld";
  ASSERT_TRUE(ask());
  EXPECT_EQ(came, "held");
  EXPECT_EQ(seen.opened, 3u);
  ASSERT_EQ(waits.size(), 2u);
  for (const std::int64_t wait : waits) {
    EXPECT_GE(wait, 3000);
    EXPECT_LE(wait, 4500);
  }
}

TEST_F(BusyShed, ThatDoesNotSayWhenIsAskedAfterDoubledWaits) {
  seen.answers = {busy(""), busy("Retry-After: soon\r\n"), busy("")};
  seen.answer = "HTTP/1.1 200 OK\r\nContent-Length: 4\r\n\r\nheld";
  ASSERT_TRUE(ask());
  ASSERT_EQ(waits.size(), 3u);
  EXPECT_GE(waits[0], 2000);
  EXPECT_LE(waits[0], 3000);
  EXPECT_GE(waits[2], 8000);
  EXPECT_LE(waits[2], 12000);
}

TEST_F(BusyShed, ThatStaysSoIsAFailureInItsOwnWords) {
  seen.answer = busy("Retry-After: 30\r\n");
  const auto done = ask();
  ASSERT_FALSE(done);
  EXPECT_THAT(done.error().text(), HasSubstr("Is busy"));
  EXPECT_GE(waits.size(), 2u);
  EXPECT_LE(waits.size(), 4u);
  EXPECT_EQ(came, "");
}

}  // namespace
}  // namespace swardwalk::server
