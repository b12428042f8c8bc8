#include <gmock/gmock.h>

#include <random>

#include "common/exchange/compression.h"
#include "tests/common/exchange/party.h"

namespace swardwalk::exchange::testing {
namespace {

/// A sighting of about 400 bytes as a tablet writes it: words repeat, measured values and
/// identities don't.
std::string sightingBody(std::mt19937& random) {
  const auto value = [&random](int digits) {
    std::string text;
    for (int i = 0; i < digits; ++i) text += static_cast<char>('0' + random() % 10);
    return text;
  };
  std::string fixes;
  for (int i = 0; i < 4; ++i) {
    fixes += (i ? "," : "") + std::string("[-1.23") + value(6) + ",52.41" + value(6) + "]";
  }
  std::string body = "{\"kind\":\"washed\",\"seen\":\"2027-04-12T06:" + value(2) + ":" + value(2) +
                     "+01:00\",\"green\":\"North\",\"length_m\":1." + value(2) + ",\"width_m\":0." +
                     value(2) +
                     ",\"shape\":\"ellipse\",\"edge_u_m\":0.02,\"depth_mm\":" + value(2) +
                     ",\"outline\":[" + fixes + "],\"accuracy_m\":2." + value(2) + ",\"note\":\"";
  return body + std::string(395 > body.size() ? 395 - body.size() : 0, 'n') + "\"}";
}

void sight(Party& party, int count, unsigned seed) {
  std::mt19937 random(seed);
  std::vector<journal::Draft> drafts;
  for (int i = 0; i < count; ++i) {
    journal::Draft draft;
    draft.author.fill(static_cast<std::uint8_t>(seed));
    draft.type = "sighting";
    std::uint8_t id[16];
    for (auto& byte : id) byte = static_cast<std::uint8_t>(random());
    draft.subject = journal::hex(id, sizeof(id));
    draft.body = sightingBody(random);
    draft.wall_ms = now_ms + i * 60'000 + static_cast<int>(random() % 60'000);
    drafts.push_back(std::move(draft));
  }
  ASSERT_TRUE(party.journal().append(drafts));
}

TEST(Cost, NothingNewIsOneSmallRoundTrip) {
  Folder folder;
  Party shed(folder, "shed", 1), tablet(folder, "tablet", 2);
  shed.found();
  exchanged(tablet, shed);
  tablet.write(20);
  exchanged(tablet, shed);
  const Meeting meeting = exchanged(tablet, shed);
  EXPECT_EQ(meeting.roundTrips, 1u);
  EXPECT_LT(meeting.wireBytes, 500u);
  EXPECT_THAT(meeting.lines[1], ::testing::HasSubstr("\"same\":true"));
}

TEST(Cost, DayEndIsOneRoundTripOfAboutTheCompressedRecords) {
  Folder folder;
  Party shed(folder, "shed", 1), tablet(folder, "tablet", 2);
  shed.found();
  std::vector<Party> others;
  others.reserve(5);
  for (std::uint8_t i = 0; i < 5; ++i) {
    others.emplace_back(folder, "other" + std::to_string(i), static_cast<std::uint8_t>(i + 10));
    exchanged(others.back(), shed);
    sight(others.back(), 10, i);
    exchanged(others.back(), shed);
  }
  exchanged(tablet, shed);
  tablet.write(1);
  exchanged(tablet, shed);
  for (unsigned i = 0; i < 5; ++i) {
    sight(others[i], 95, 100 + i);
    exchanged(others[i], shed);
  }
  sight(tablet, 25, 200);
  const Meeting meeting = exchanged(tablet, shed);
  EXPECT_EQ(meeting.roundTrips, 1u);
  EXPECT_EQ(meeting.tally.sent, 25u);
  EXPECT_EQ(meeting.tally.received, 475u);
  EXPECT_LT(meeting.wireBytes, 55'000u);
  expectSame(tablet, shed);
  RecordProperty("wire_bytes", static_cast<int>(meeting.wireBytes));
}

TEST(Cost, AVectorThatTheShedHadBeforeBringsThePullAtOnce) {
  Folder folder;
  Party shed(folder, "shed", 1), tablet(folder, "tablet", 2), other(folder, "other", 3);
  shed.found();
  exchanged(tablet, shed);
  exchanged(other, shed);
  other.write(7);
  exchanged(other, shed);
  const Meeting meeting = exchanged(tablet, shed);
  EXPECT_EQ(meeting.roundTrips, 1u);
  EXPECT_EQ(meeting.tally.received, 8u);
  EXPECT_THAT(meeting.lines[0], ::testing::Not(::testing::HasSubstr("heads")));
  expectSame(tablet, shed);
}

TEST(Cost, AVectorThatTheShedForgotCostsOneMoreRoundTrip) {
  Folder folder;
  Party shed(folder, "shed", 1), tablet(folder, "tablet", 2), other(folder, "other", 3);
  shed.found();
  exchanged(tablet, shed);
  exchanged(other, shed);
  for (int i = 0; i < 70; ++i) {  // 64 vectors are remembered
    other.write(1);
    exchanged(other, shed);
  }
  const Meeting meeting = exchanged(tablet, shed);
  EXPECT_EQ(meeting.roundTrips, 2u);
  EXPECT_EQ(meeting.tally.received, 71u);
  expectSame(tablet, shed);
}

}  // namespace
}  // namespace swardwalk::exchange::testing
