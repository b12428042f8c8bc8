#include "common/exchange/pairing.h"

#include <gtest/gtest.h>

#include <set>

namespace swardwalk::exchange {
namespace {

journal::Signer signer() {
  journal::Signer::Seed seed{};
  seed.fill(7);
  return journal::Signer(seed);
}

const std::string fingerprint(64, 'a');

TEST(PairingCode, IsReadAsPeopleTypeIt) {
  EXPECT_EQ(parseCode("7k2m-q9tx"), "7K2MQ9TX");
  EXPECT_EQ(parseCode(" 7K2M Q9TX "), "7K2MQ9TX");
  EXPECT_EQ(parseCode("ooil-0000"), "00110000");
  for (const char* wrong : {"", "7K2M-Q9T", "7K2M-Q9TXX", "7K2M-Q9TU", "7K2M_Q9TX"}) {
    EXPECT_FALSE(parseCode(wrong)) << wrong;
  }
}

TEST(PairingCode, UsesEveryRandomBit) {
  std::set<std::string> codes{codeFrom({0, 0, 0, 0, 0})};
  for (std::size_t byte = 0; byte < 5; ++byte) {
    for (unsigned bit = 0; bit < 8; ++bit) {
      std::array<std::uint8_t, 5> random{};
      random[byte] = static_cast<std::uint8_t>(1U << bit);
      codes.insert(codeFrom(random));
    }
  }
  EXPECT_EQ(codes.size(), 41U);
  for (const std::string& code : codes) EXPECT_EQ(parseCode(writtenCode(code)), code);
}

TEST(PairingQuestion, IsReadAsItWasWrittenAndVerifies) {
  const auto question = pairingQuestion(signer(), "7K2MQ9TX", "Tablet \"a\"", fingerprint);
  const auto read = parsePairingQuestion(write(question));
  ASSERT_TRUE(read) << read.error().text();
  EXPECT_EQ(read->device, "Tablet \"a\"");
  EXPECT_TRUE(verifies(*read, fingerprint));
}

TEST(PairingQuestion, VerifiesForNoOtherCodeKeyOrCertificate) {
  const auto question = pairingQuestion(signer(), "7K2MQ9TX", "", fingerprint);
  EXPECT_FALSE(verifies(question, std::string(64, 'b')));
  auto otherCode = question;
  otherCode.code = "7K2MQ9TY";
  EXPECT_FALSE(verifies(otherCode, fingerprint));
  auto otherKey = question;
  otherKey.origin[0] ^= 1U;
  EXPECT_FALSE(verifies(otherKey, fingerprint));
}

TEST(PairingCard, IsReadFromAPictureOrFromPastedText) {
  const PairingCard card{"https://192.0.2.7:8137/", fingerprint, "7K2MQ9TX"};
  for (const std::string& text :
       {write(card), "swardwalk pair 1 https://192.0.2.7:8137/ " + fingerprint + " 7k2m-q9tx"}) {
    const auto read = parsePairingCard(text);
    ASSERT_TRUE(read) << text;
    EXPECT_EQ(read->address, card.address);
    EXPECT_EQ(read->fingerprint, fingerprint);
    EXPECT_EQ(read->code, "7K2MQ9TX");
  }
}

TEST(PairingCard, OtherTextsAreNone) {
  for (const std::string& text :
       {std::string(), std::string("https://192.0.2.7/"),
        "swardwalk pair 1\nhttp://192.0.2.7/\n" + fingerprint + "\n7K2M-Q9TX\n",
        "swardwalk pair 1\nhttps://192.0.2.7/\n" + fingerprint + "\n",
        "swardwalk pair 2\nhttps://192.0.2.7/\n" + fingerprint + "\n7K2M-Q9TX\n",
        "swardwalk pair 1\nhttps://192.0.2.7/\n" + fingerprint + "\n7K2M-Q9TX\nmore\n"}) {
    EXPECT_FALSE(parsePairingCard(text)) << text;
  }
}

}  // namespace
}  // namespace swardwalk::exchange
