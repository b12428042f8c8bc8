#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "common/failure.h"
#include "common/journal/record.h"

/// What two journals say to each other, as lines; PROTOCOL.md specifies them.
namespace swardwalk::exchange {

inline constexpr int protocolVersion = 1;

namespace limits {
inline constexpr std::size_t lineBytes = 512 * 1024;
inline constexpr std::size_t messageRecords = 4096;
inline constexpr std::size_t messageBytes = 16 * 1024 * 1024;  ///< uncompressed
inline constexpr std::size_t heads = 4096;
}  // namespace limits

/// A run that the receiver could not take, and what the sender does next.
struct Trouble {
  journal::OriginKey origin{};
  std::uint64_t after = 0;
  std::string error;   ///< for programs: "gap", "wrong_digest", "bad_signature", "over_limit"
  std::string reason;  ///< for people
};

/// The first line of every message.
struct Hello {
  int protocol = protocolVersion;
  std::optional<journal::CourseId> course;  ///< absent: the sender is blank
  journal::OriginKey origin{};              ///< who sends
  journal::Digest vector{};  ///< over the sender's heads, after what it took so far
  std::optional<std::vector<journal::Head>> heads;  ///< absent: ask when the vectors differ
  std::int64_t wall_ms = 0;  ///< the sender's clock
  bool same = false;         ///< answer only: the vectors were equal
  bool more = false;         ///< the sender has more to give than fitted
  std::vector<journal::Head> held;  ///< answer only: durable here now, of what was pushed (X2)
  std::vector<Trouble> troubles;
};

struct Message {
  Hello hello;
  std::vector<journal::Run> runs;
};

/// The message as lines, each ended by a line feed.
std::string write(const Message& message);

/// Reads lines as they come, so that a message that was cut gives every whole run
/// before the cut (X1). Use from one thread.
class MessageReader {
 public:
  /// Takes the next bytes. Fails with `invalid` when they break the protocol; what
  /// was whole before stays available.
  Result<void> take(std::string_view bytes);

  const std::optional<Hello>& hello() const { return hello_; }
  /// Hands over the runs that are whole so far and forgets them.
  std::vector<journal::Run> takeRuns();
  /// Was the end line there? Without it the message was cut.
  bool ended() const { return ended_; }

 private:
  Result<void> takeLine(std::string_view line);
  std::string rest_;
  std::optional<Hello> hello_;
  std::optional<journal::Run> open_;
  std::uint64_t openRecords_ = 0;
  std::uint64_t records_ = 0;
  std::vector<journal::Run> runs_;
  bool ended_ = false;
};

/// One record as a line without its line feed, and back; also what
/// `export --as records` prints after a run's line.
std::string writeRecord(const journal::Record& record);
Result<journal::Record> parseRecord(std::string_view line);

}  // namespace swardwalk::exchange
