// FORMAT.md specifies the bytes: its worked example, which another program made from the
// text, must come out of this code.
#include <gtest/gtest.h>

#include <boost/json.hpp>
#include <fstream>
#include <iterator>

#include "common/journal/digest.h"
#include "common/journal/head_input.h"
#include "tests/common/journal/devices.h"

namespace swardwalk::journal {
namespace {

class Format : public testing::Test {
 protected:
  Format() {
    std::ifstream in(SWARDWALK_SOURCE "/common/journal/FORMAT.md");
    const std::string page{std::istreambuf_iterator<char>(in), {}};
    const auto begin = page.find("```json\n");
    const auto end = page.find("```", begin + 8);
    example = boost::json::parse(page.substr(begin + 8, end - begin - 8)).as_object();
    origin = bytes<32>(example, "origin");
    course = bytes<16>(example, "course");
    for (const auto& value : example.at("records").as_array())
      records.push_back(record(value.as_object()));
  }

  static std::string text(const boost::json::object& object, const char* key) {
    return std::string(object.at(key).as_string());
  }
  template <std::size_t Size>
  static std::array<std::uint8_t, Size> bytes(const boost::json::object& object, const char* key) {
    return parseHex<Size>(text(object, key)).value();
  }
  Record record(const boost::json::object& object) const {
    Record record;
    record.origin = origin;
    record.number = object.at("number").to_number<std::uint64_t>();
    record.counter = object.at("counter").to_number<std::uint64_t>();
    record.content.wall_ms = object.at("wall_ms").to_number<std::int64_t>();
    record.content.clockSource =
        static_cast<ClockSource>(object.at("clock_source").to_number<int>());
    record.content.clockOffset_ms = object.at("clock_offset_ms").to_number<std::int64_t>();
    record.content.author = bytes<16>(object, "author");
    record.content.type = text(object, "type");
    record.content.version = object.at("version").to_number<std::uint16_t>();
    record.content.subject = text(object, "subject");
    record.content.body = text(object, "body");
    record.bodyDigest = bytes<32>(object, "body_digest");
    record.digest = bytes<32>(object, "digest");
    return record;
  }
  Signer signer() const { return Signer(bytes<32>(example, "seed")); }
  Head head() const { return {origin, 3, records.back().digest}; }

  boost::json::object example;
  OriginKey origin{};
  CourseId course{};
  std::vector<Record> records;
};

TEST_F(Format, ExampleCourseComesFromFounderAndNonce) {
  EXPECT_EQ(signer().origin(), origin);
  EXPECT_EQ(courseIdFor(origin, bytes<16>(example, "nonce")), course);
  EXPECT_EQ(genesisDigest(course), (bytes<32>(example, "genesis")));
}

TEST_F(Format, ExampleRecordsHaveTheirDigests) {
  ASSERT_EQ(records.size(), 3U);
  Digest before = bytes<32>(example, "genesis");
  for (const Record& record : records) {
    EXPECT_EQ(hex(blake2b(record.content.body)), hex(record.bodyDigest));
    EXPECT_EQ(hex(recordDigest(before, record)), hex(record.digest));
    EXPECT_EQ(brokenLimit(record), std::nullopt);
    before = record.digest;
  }
  const std::string input = text(example, "input_of_record_2");
  std::string raw(input.size() / 2, '\0');
  ASSERT_TRUE(parseHex(input, reinterpret_cast<std::uint8_t*>(raw.data()), raw.size()));
  EXPECT_EQ(hex(blake2b(raw)), hex(records[1].digest));
}

TEST_F(Format, ExampleHeadIsSigned) {
  const std::string input = headInput(course, head());
  EXPECT_EQ(hex(reinterpret_cast<const std::uint8_t*>(input.data()), input.size()),
            text(example, "head_input"));
  EXPECT_EQ(hex(signer().signHead(course, head())), text(example, "signature"));
  EXPECT_TRUE(headVerifies(course, head(), bytes<64>(example, "signature")));
  EXPECT_EQ(hex(vectorDigest({head()})), text(example, "vector"));
}

TEST_F(Format, ExampleRunIsTakenFromItsFounderWithoutAnybodyVouching) {
  TempFolder folder;
  Device reader(folder.file("j"), 3);
  ASSERT_TRUE(reader.journal().adopt(course));
  journal::Run run;
  run.origin = origin;
  run.base = genesisDigest(course);
  run.head = head().digest;
  run.signature = bytes<64>(example, "signature");
  run.records = records;
  expectTaken(reader.journal(), {&run, 1}, TakeStatus::taken, Vouching::waiting);
  EXPECT_TRUE(reader.journal().origins()[0].accepted);
  EXPECT_EQ(hex(reader.journal().vector()), text(example, "vector"));
}

TEST_F(Format, FirstRecordIsWrittenAsTheExampleSays) {
  TempFolder folder;
  TallyFold fold;
  JournalOptions options;
  options.file = folder.file("j");
  auto founder = Journal::open(options, signer(), fold);
  ASSERT_TRUE(founder);
  ASSERT_TRUE(founder->found(bytes<16>(example, "nonce"), records[0].content.wall_ms, "Tablet 1"));
  EXPECT_EQ(hex(founder->heads()[0].digest), hex(records[0].digest));
}

}  // namespace
}  // namespace swardwalk::journal
