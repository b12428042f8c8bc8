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
  std::string answer;
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
    seen_->pieces.emplace_back(bytes);
    said_ = 0;
    return {};
  }
  Result<std::size_t> receive(char* into, std::size_t size) override {
    if (said_ == seen_->answer.size()) return fail(FailureKind::io, "", "it was cut", "again");
    const std::size_t count = std::min(size, seen_->answer.size() - said_);
    std::memcpy(into, seen_->answer.data() + said_, count);
    said_ += count;
    return count;
  }
  void close() override { open_ = false; }

 private:
  Seen* seen_;
  bool open_ = false;
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

}  // namespace
}  // namespace swardwalk::server
