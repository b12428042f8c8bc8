#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "common/exchange/message.h"
#include "common/exchange/shut_out.h"
#include "common/journal/journal.h"

namespace swardwalk::exchange {

/// Under which name a device remembers what the shed holds: a course has one, whatever its
/// address today. Another server under this name costs one more round trip, no record.
inline constexpr const char* shedName = "shed";

/// What an exchange has moved so far.
struct Tally {
  std::uint64_t sent = 0;      ///< records that the peer says are on its disk
  std::uint64_t received = 0;  ///< records new here
  std::optional<std::int64_t> peerClockAhead_ms;
  bool ownOriginForked = false;     ///< somebody else writes under our key: renew the origin
  std::vector<std::string> alarms;  ///< in words: what happened, what is safe, what to do
  bool whole = true;                ///< of a file: nothing was cut off or unreadable
};

/// The asking side of an exchange: a state machine without sockets, files or clocks.
/// The caller carries `next()` to the peer and feeds what comes back to `take`, until
/// `next()` has nothing more. May be dropped at any point; another one goes on (X1).
/// What the peer held last time is kept as a note of the journal under `peerName`.
/// Use from one thread, the journal's.
class Asker {
 public:
  Asker(journal::Journal& journal, std::string peerName);

  /// The next message to send, or nothing when both sides hold the same or neither can
  /// give the other more. `wall_ms` is this device's clock.
  Result<std::optional<Message>> next(std::int64_t wall_ms);

  /// The peer's hello; must come before its runs. Refuses another course or a protocol
  /// that this build does not speak.
  Result<void> take(const Hello& hello, std::int64_t wall_ms);
  /// Commits runs of the answer; may be called several times for one answer.
  Result<void> take(const std::vector<journal::Run>& runs);
  /// The answer is whole: remember what the peer holds.
  Result<void> finish();
  /// Which pictures the peer misses, by its last answer; sent when the records are through
  /// (photos.h).
  const std::vector<MissingPhoto>& peerMisses() const { return peerMisses_; }
  /// Lets `next` ask once more, after pictures were sent, what is missing now.
  void askAgain();

  const Tally& tally() const { return tally_; }

 private:
  struct Pushed {
    journal::Head end;
    std::uint64_t records = 0;
  };

  Result<void> checkPeer(const Hello& hello);
  void noteClock(std::int64_t peer_ms, std::int64_t now_ms);
  void noteHeld(const Hello& hello);
  void noteTroubles(const Hello& hello);
  void noteForkedOrigin();
  Result<void> remember(bool open);

  journal::Journal* journal_;
  std::string peerName_;
  Tally tally_;
  /// What the peer holds, as far as it said; nothing before the first meeting.
  std::optional<std::vector<journal::Head>> peerHeads_;
  std::vector<journal::Head> peerPoints_;
  std::vector<journal::Head> asked_;  ///< own heads when the question was made
  std::int64_t asked_ms_ = 0;
  std::vector<Pushed> pushed_;         ///< in this question, not yet said to be held
  std::vector<journal::Head> learnt_;  ///< what this answer shows that the peer holds
  std::optional<Hello> answer_;
  std::vector<MissingPhoto> peerMisses_;
  std::string lastQuestion_;
  unsigned rounds_ = 0;
  bool stateHeads_ = false;  ///< the last exchange was cut: no known vector can be ours
  bool moved_ = false;       ///< this round moved records
  bool idle_ = false;        ///< the last round moved none
  bool done_ = false;
};

/// The answering side: one message in, one out. Stateless but for the journal.
struct AnswerOptions {
  journal::Vouching vouching = journal::Vouching::accepted;
  std::int64_t wall_ms = 0;
  std::size_t maxRecords = limits::messageRecords;
  IsShutOut isShutOut;
  /// Which pictures are wanted, asked after the question's records were taken; nothing: none.
  std::function<std::vector<MissingPhoto>()> missing;
};

struct Answer {
  Message message;
  std::uint64_t received = 0;
  bool ownOriginForked = false;
  std::vector<std::string> alarms;  ///< in words, like Tally's
};

/// Takes what the question brings (durably, before it is acknowledged: X2), and gives
/// what the asker lacks. Refuses another course (`refused`) and another protocol
/// (`newer`), with nothing taken. When both sides are blank it is `notFound`: the caller
/// founds a course and answers again. A failure acknowledges nothing; the question may be
/// repeated.
Result<Answer> answer(journal::Journal& journal, const Message& question,
                      const AnswerOptions& options);

/// Everything that the journal holds as one message, for a memory stick; runs are handed
/// to `emit` as lines, so that a large journal needs little memory.
Result<void> writeAll(const journal::Journal& journal, std::int64_t wall_ms,
                      const std::function<Result<void>(std::string_view)>& emit);

/// Takes a message from a file: what is whole is kept, and the tally's alarms say where a
/// cut or damaged file stopped. Fails where nothing can be taken at all: no such file, another
/// course (`refused`), a newer protocol (`newer`). May be repeated (X1).
Result<Tally> readAll(journal::Journal& journal, std::string_view bytes, journal::Vouching vouching,
                      const IsShutOut& isShutOut = {});

/// How many records the peer is not known to hold ("only on this tablet").
std::uint64_t notYetHeldBy(const journal::Journal& journal, const std::string& peerName);

}  // namespace swardwalk::exchange
