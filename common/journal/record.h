#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace swardwalk::journal {

using Digest = std::array<std::uint8_t, 32>;     ///< BLAKE2b-256
using OriginKey = std::array<std::uint8_t, 32>;  ///< Ed25519 public key: who writes
using Signature = std::array<std::uint8_t, 64>;  ///< Ed25519
using CourseId = std::array<std::uint8_t, 16>;   ///< names the course
using PersonId = std::array<std::uint8_t, 16>;   ///< all zero: nobody in particular

/// The frozen limits of the envelope (rule J6): nothing else may refuse a record, in
/// this version or a later one. Named once, used by both sides of an exchange (S1).
namespace limits {
inline constexpr std::size_t bodyBytes = 65'536;
inline constexpr std::size_t typeBytes = 32;      ///< a-z and _, at least one
inline constexpr std::size_t subjectBytes = 480;  ///< UTF-8, 120 characters of 4 bytes
/// Numbers, counters and clock values stay exact in every JSON reader: at most 2^53 - 1,
/// and clock values at least minus that.
inline constexpr std::int64_t integer = 9'007'199'254'740'991;
/// A run is the unit that is verified and committed: at most this many records, and
/// at most this many bytes of bodies unless it is one record.
inline constexpr std::size_t runRecords = 1024;
inline constexpr std::size_t runBodyBytes = 1'048'576;
}  // namespace limits

/// What the device knew about its wall clock when it wrote.
enum class ClockSource : std::uint8_t {
  none = 0,      ///< nothing: `wall_ms` is the bare clock
  shed = 1,      ///< `clockOffset_ms` was measured at the last exchange
  satellite = 2  ///< `clockOffset_ms` comes from a satellite fix
};

/// What somebody wants to write; the journal adds the rest.
struct Draft {
  PersonId author{};
  std::string type;
  std::uint16_t version = 1;
  std::string subject;  ///< what it is about, mostly a patch's identity; may be empty
  std::string body;     ///< UTF-8 JSON without a line feed, kept byte for byte
  std::int64_t wall_ms = 0;
  ClockSource clockSource = ClockSource::none;
  std::int64_t clockOffset_ms = 0;  ///< true time minus wall clock; 0 with `none`
};

/// One immutable entry of the journal.
struct Record {
  OriginKey origin{};
  std::uint64_t number = 0;   ///< 1, 2, 3 … within its origin (J3)
  std::uint64_t counter = 0;  ///< Lamport: one more than the highest that was seen
  Draft content;
  Digest bodyDigest{};  ///< of the body; outlives an erased body
  Digest digest{};
  bool erased = false;  ///< the body was erased on request; `content.body` is empty
};

/// Names the frozen limit that a record's number, counter or content breaks, in words;
/// nothing: it keeps them all. An erased record has no body.
std::optional<std::string> brokenLimit(const Record& record);

/// The newest record of one branch of an origin. Most origins have one branch (X3).
struct Head {
  OriginKey origin{};
  std::uint64_t number = 0;
  Digest digest{};

  friend bool operator==(const Head&, const Head&) = default;
  // NOLINTNEXTLINE(modernize-use-nullptr): clang-tidy 14 takes the zero in it for a pointer
  friend auto operator<=>(const Head&, const Head&) = default;
};

/// Consecutive records of one branch, `after`+1 to `after`+records.size(), whose last
/// digest its origin signed.
struct Run {
  OriginKey origin{};
  std::uint64_t after = 0;
  Digest base{};  ///< digest of record `after`; the course's genesis digest for 0
  Digest head{};  ///< digest of the last record, as the sender states it
  Signature signature{};
  /// origin, number and digests of the single records need not be filled in:
  /// the receiver computes them.
  std::vector<Record> records;
};

/// Lower-case hexadecimal, the way keys and digests are written everywhere.
std::string hex(const std::uint8_t* bytes, std::size_t size);
template <std::size_t Size>
std::string hex(const std::array<std::uint8_t, Size>& bytes) {
  return hex(bytes.data(), Size);
}
bool parseHex(std::string_view text, std::uint8_t* bytes, std::size_t size);
template <std::size_t Size>
std::optional<std::array<std::uint8_t, Size>> parseHex(std::string_view text) {
  std::array<std::uint8_t, Size> bytes;
  if (!parseHex(text, bytes.data(), Size)) return std::nullopt;
  return bytes;
}

}  // namespace swardwalk::journal
