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

/// Media types of a message over HTTP: as it is, and compressed with Zstandard.
inline constexpr const char* plainType = "application/vnd.swardwalk.exchange";
inline constexpr const char* zstdType = "application/vnd.swardwalk.exchange+zstd";

/// What a reader refuses; a writer stays below. Both sides of an exchange use these (S1).
namespace limits {
inline constexpr std::size_t helloBytes = 2'097'152;  ///< first line
inline constexpr std::size_t lineBytes = 524'288;     ///< every other line
inline constexpr std::size_t messageRecords = 4096;
inline constexpr std::size_t messageBytes = 16'777'216;  ///< uncompressed
inline constexpr std::size_t heads = 4096;               ///< also of `held`
inline constexpr std::size_t branches = 64;              ///< of one origin
inline constexpr std::size_t points = 1024;
inline constexpr std::size_t troubles = 64;
inline constexpr std::size_t reasonBytes = 400;
inline constexpr std::size_t missingPhotos = 64;
}  // namespace limits

/// A run that the receiver could not take, and what the sender does next.
struct Trouble {
  journal::OriginKey origin{};
  std::uint64_t after = 0;
  std::string
      error;  ///< for programs: "gap", "wrong_digest", "bad_signature", "over_limit", "waits"
  std::string reason;  ///< for people
};

/// A picture that records name and the sender does not have, or not whole.
struct MissingPhoto {
  journal::Digest photo{};
  std::uint64_t have = 0;  ///< of its bytes, from the first on
};

/// The first line of every message.
struct Hello {
  int protocol = protocolVersion;
  std::optional<journal::CourseId> course;  ///< absent: the sender is blank, or `same`
  journal::OriginKey origin{};  ///< who sends; all zero: not stated (short messages leave it out)
  journal::Digest vector{};     ///< over the sender's heads, after what it took so far
  std::optional<std::vector<journal::Head>> heads;  ///< absent: ask when the vectors differ
  /// Further records that the sender holds, besides its heads: a ladder down a branch,
  /// from which the receiver finds where two branches part.
  std::vector<journal::Head> points;
  std::int64_t wall_ms = 0;         ///< the sender's clock
  bool same = false;                ///< answer only: the vectors were equal
  bool more = false;                ///< the sender has more to give than fitted
  std::vector<journal::Head> held;  ///< answer only: durable here now, of what was pushed (X2)
  std::vector<Trouble> troubles;
  std::vector<MissingPhoto> missing;  ///< answer only
};

struct Message {
  Hello hello;
  std::vector<journal::Run> runs;
};

/// The message as lines, each ended by a line feed.
std::string write(const Message& message);

/// The same in pieces, for a message that is too large to be held at once. Each gives
/// whole lines with their line feeds.
std::string writeHello(const Hello& hello);
std::string writeRun(const journal::Run& run);
std::string writeEnd(std::uint64_t records);

/// What a message may grow to: over a network bounded as a whole, in a file line by line.
enum class Bounds { message, file };

/// Reads lines as they come, so that a message that was cut gives every whole run
/// before the cut (X1). Use from one thread.
class MessageReader {
 public:
  explicit MessageReader(Bounds bounds = Bounds::message) : bounds_(bounds) {}

  /// Takes the next bytes. Fails with `invalid` when they break the protocol, naming the
  /// line, and with `newer` for another protocol; then it takes nothing more, and what
  /// was whole before stays available.
  Result<void> take(std::string_view bytes);

  const std::optional<Hello>& hello() const { return hello_; }
  /// Hands over the runs that are whole so far and forgets them.
  std::vector<journal::Run> takeRuns();
  /// Was the end line there? Without it the message was cut.
  bool ended() const { return ended_; }

 private:
  Result<void> takeLine(std::string_view line);
  Result<void> takeObject(std::string_view line);
  Result<void> takeRecord(std::string_view line);
  tl::unexpected<Failure> broken(std::string_view what) const;

  Bounds bounds_;
  std::string rest_;
  std::optional<Hello> hello_;
  std::optional<journal::Run> open_;
  std::uint64_t openRecords_ = 0;
  std::size_t openBodyBytes_ = 0;
  std::uint64_t records_ = 0;
  std::uint64_t lines_ = 0;
  std::uint64_t bytes_ = 0;
  std::vector<journal::Run> runs_;
  std::optional<Failure> failure_;
  bool ended_ = false;
};

/// Reads a message that is there as a whole; fails with `invalid` when it was cut.
Result<Message> readMessage(std::string_view bytes);

/// One record as a line without its line feed, and back; also what
/// `export --as records` prints after a run's line. Origin, number and digest do not
/// travel: the run and the chain give them.
std::string writeRecord(const journal::Record& record);
Result<journal::Record> parseRecord(std::string_view line);

}  // namespace swardwalk::exchange
