#include "common/journal/digest.h"

#include <gtest/gtest.h>
#include <sodium.h>

#include <functional>
#include <set>

#include "common/journal/utf8.h"
#include "tests/common/journal/devices.h"

namespace swardwalk::journal {
namespace {

TEST(Blake2b, GivesThePublishedDigests) {
  // BLAKE2b with 32 bytes of output (RFC 7693): computed by two implementations.
  EXPECT_EQ(hex(blake2b("")), "0e5751c026e543b2e8ab2eb06099daa1d1e5df47778f7787faab45cdf12fe3a8");
  EXPECT_EQ(hex(blake2b("abc")),
            "bddd813c634239723171ef3fee98579b94964e3bb1cb3e427262c8c068d52319");
}

struct Vector {
  const char* seed;
  const char* publicKey;
  const char* message;
  const char* signature;
};

// RFC 8032, section 7.1, tests 1 to 3.
constexpr Vector ed25519[] = {
    {"9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
     "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a", "",
     "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701c"
     "f9b46bd25bf5f0595bbe24655141438e7a100b"},
    {"4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
     "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c", "72",
     "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0"
     "f11d8c387b2eaeb4302aeeb00d291612bb0c00"},
    {"c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
     "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025", "af82",
     "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f76098"
     "4dc6594a7c15e9716ed28dc027beceea1ec40a"},
};

TEST(Ed25519, KeysOfThePublishedSeedsAreThePublishedKeys) {
  for (const Vector& vector : ed25519)
    EXPECT_EQ(hex(Signer(parseHex<32>(vector.seed).value()).origin()), vector.publicKey);
}

TEST(Ed25519, LibrarySignsAsPublished) {
  for (const Vector& vector : ed25519) {
    const auto seed = parseHex<32>(vector.seed).value();
    std::array<std::uint8_t, 32> publicKey;
    std::array<std::uint8_t, 64> secret;
    crypto_sign_seed_keypair(publicKey.data(), secret.data(), seed.data());
    std::vector<std::uint8_t> message(std::string(vector.message).size() / 2);
    ASSERT_TRUE(parseHex(vector.message, message.data(), message.size()));
    Signature signature;
    crypto_sign_detached(signature.data(), nullptr, message.data(), message.size(), secret.data());
    EXPECT_EQ(hex(signature), vector.signature);
  }
}

TEST(RecordDigest, CoversEveryFieldAndTheOneBefore) {
  Record record;
  record.number = record.counter = 3;
  record.content = noteOn("AB", "1");
  const std::vector<std::function<void(Record&)>> changes{
      [](Record&) {},
      [](Record& r) { r.origin[31] ^= 1; },
      [](Record& r) { r.number = 4; },
      [](Record& r) { r.counter = 4; },
      [](Record& r) { r.content.wall_ms += 1; },
      [](Record& r) { r.content.wall_ms = -r.content.wall_ms; },
      [](Record& r) { r.content.clockSource = ClockSource::shed; },
      [](Record& r) { r.content.clockOffset_ms = -1; },
      [](Record& r) { r.content.author[0] = 1; },
      [](Record& r) { r.content.type.push_back('s'); },
      [](Record& r) { r.content.version = 257; },
      [](Record& r) { r.content.subject.pop_back(); },
      [](Record& r) { r.bodyDigest[0] ^= 1; }};
  std::set<Digest> digests;
  for (const auto& change : changes) {
    Record changed = record;
    change(changed);
    digests.insert(recordDigest(Digest{}, changed));
  }
  digests.insert(recordDigest(Digest{1}, record));
  EXPECT_EQ(digests.size(), changes.size() + 1);
}

TEST(RecordDigest, LeavesTheBodyItselfOutSoThatItCanBeErased) {
  Record record;
  record.content = noteOn("A", "1");
  record.bodyDigest = blake2b("1");
  const Digest before = recordDigest(Digest{}, record);
  record.content.body.clear();
  record.erased = true;
  EXPECT_EQ(recordDigest(Digest{}, record), before);
}

TEST(HeadSignature, HoldsForItsOwnCourseOriginNumberAndDigestOnly) {
  const Signer signer = signerOf(1);
  const CourseId course{1};
  const Head head{signer.origin(), 7, Digest{2}};
  const Signature signature = signer.signHead(course, head);
  EXPECT_TRUE(headVerifies(course, head, signature));
  EXPECT_FALSE(headVerifies(CourseId{2}, head, signature));
  EXPECT_FALSE(headVerifies(course, {signerOf(2).origin(), 7, head.digest}, signature));
  EXPECT_FALSE(headVerifies(course, {head.origin, 8, head.digest}, signature));
  EXPECT_FALSE(headVerifies(course, {head.origin, 7, Digest{3}}, signature));
}

TEST(VectorDigest, DoesNotDependOnTheOrderOfHeads) {
  const Head a{OriginKey{1}, 2, Digest{3}};
  const Head b{OriginKey{1}, 2, Digest{4}};
  EXPECT_EQ(vectorDigest({a, b}), vectorDigest({b, a}));
  EXPECT_NE(vectorDigest({a, b}), vectorDigest({a}));
  EXPECT_NE(vectorDigest({}), Digest{});
}

TEST(Hex, ReadsOnlyWhatItWrites) {
  const Digest digest = blake2b("x");
  EXPECT_EQ(parseHex<32>(hex(digest)), digest);
  EXPECT_EQ(parseHex<2>("0aFf"), std::nullopt);
  EXPECT_EQ(parseHex<2>("0a0"), std::nullopt);
  EXPECT_EQ(parseHex<2>("0a0g"), std::nullopt);
}

TEST(Utf8, TakesWellFormedTextOnly) {
  // Cases of RFC 3629, section 3: shortest and longest of each length, and what is none.
  for (const char* good :
       {"", "a", "\x7F", "\xC2\x80", "\xDF\xBF", "\xE0\xA0\x80", "\xED\x9F\xBF", "\xEE\x80\x80",
        "\xEF\xBF\xBF", "\xF0\x90\x80\x80", "\xF4\x8F\xBF\xBF", "12345678\xC3\xA4",
        "1234567\xC3\xA4"
        "9012345678"})
    EXPECT_TRUE(isUtf8(good)) << good;
  for (const char* bad : {"\x80", "\xC0\x80", "\xC1\xBF", "\xC2",
                          "\xC2"
                          "a",
                          "\xE0\x9F\xBF", "\xED\xA0\x80", "\xE2\x82", "\xF0\x8F\xBF\xBF",
                          "\xF4\x90\x80\x80", "\xF5\x80\x80\x80", "\xFF", "1234567890\xC3"})
    EXPECT_FALSE(isUtf8(bad)) << bad;
}

}  // namespace
}  // namespace swardwalk::journal
