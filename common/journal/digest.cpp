#include "common/journal/digest.h"

#include <sodium.h>

#include <algorithm>
#include <cassert>

#include "common/journal/head_input.h"
#include "common/journal/signer.h"
#include "common/journal/sodium_ready.h"

namespace swardwalk::journal {

namespace {

/// The bytes that FORMAT.md calls fields: every value after its length, so that no two
/// lists of values give the same bytes.
class Fields {
 public:
  explicit Fields(std::string_view domain) {
    bytes_.reserve(512);
    add(domain);
  }

  void add(std::string_view value) {
    little(value.size(), 4);
    bytes_ += value;
  }
  template <std::size_t Size>
  void add(const std::array<std::uint8_t, Size>& value) {
    add({reinterpret_cast<const char*>(value.data()), Size});
  }
  void addInteger(std::uint64_t value, std::size_t size) {
    little(size, 4);
    little(value, size);
  }

  const std::string& bytes() const { return bytes_; }

 private:
  void little(std::uint64_t value, std::size_t size) {
    for (std::size_t i = 0; i < size; ++i) bytes_ += static_cast<char>((value >> (8 * i)) & 0xFF);
  }

  std::string bytes_;
};

}  // namespace

Digest blake2b(std::string_view bytes) {
  sodiumReady();
  Digest digest;
  crypto_generichash_blake2b(digest.data(), digest.size(),
                             reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size(),
                             nullptr, 0);
  return digest;
}

Digest genesisDigest(const CourseId& course) {
  Fields fields("swardwalk genesis 1");
  fields.add(course);
  return blake2b(fields.bytes());
}

Digest recordDigest(const Digest& before, const Record& record) {
  Fields fields("swardwalk record 1");
  fields.add(before);
  fields.add(record.origin);
  fields.addInteger(record.number, 8);
  fields.addInteger(record.counter, 8);
  fields.addInteger(static_cast<std::uint64_t>(record.content.wall_ms), 8);
  fields.addInteger(static_cast<std::uint8_t>(record.content.clockSource), 1);
  fields.addInteger(static_cast<std::uint64_t>(record.content.clockOffset_ms), 8);
  fields.add(record.content.author);
  fields.add(record.content.type);
  fields.addInteger(record.content.version, 2);
  fields.add(record.content.subject);
  fields.add(record.bodyDigest);
  return blake2b(fields.bytes());
}

Digest vectorDigest(std::vector<Head> heads) {
  std::sort(heads.begin(), heads.end());
  Fields fields("swardwalk vector 1");
  for (const Head& head : heads) {
    fields.add(head.origin);
    fields.addInteger(head.number, 8);
    fields.add(head.digest);
  }
  return blake2b(fields.bytes());
}

CourseId courseIdFor(const OriginKey& founder, const std::array<std::uint8_t, 16>& nonce) {
  Fields fields("swardwalk course 1");
  fields.add(founder);
  fields.add(nonce);
  const Digest digest = blake2b(fields.bytes());
  CourseId course;
  std::copy_n(digest.begin(), course.size(), course.begin());
  return course;
}

std::string headInput(const CourseId& course, const Head& head) {
  Fields fields("swardwalk head 1");
  fields.add(course);
  fields.add(head.origin);
  fields.addInteger(head.number, 8);
  fields.add(head.digest);
  return fields.bytes();
}

bool headVerifies(const CourseId& course, const Head& head, const Signature& signature) {
  return wordsVerify(head.origin, headInput(course, head), signature);
}

}  // namespace swardwalk::journal
