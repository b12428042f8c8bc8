#pragma once

#include <optional>
#include <string>
#include <vector>

#include "common/journal/journal.h"

/// What a journal remembers of its exchanges, as notes. They are hints that save a round
/// trip: a lost, old or wrong one costs time and nothing else.
namespace swardwalk::exchange {

struct PeerMemory {
  std::vector<journal::Head> held;  ///< points that the peer held at the last meeting
  bool open = false;                ///< the last exchange was cut, or is still going on
};

/// Nothing before the first meeting.
std::optional<PeerMemory> recallPeer(const journal::Journal& journal, const std::string& peerName);
Result<void> rememberPeer(journal::Journal& journal, const std::string& peerName,
                          const PeerMemory& memory);

/// The heads behind a vector that this journal had when it answered before.
std::optional<std::vector<journal::Head>> headsOfVector(const journal::Journal& journal,
                                                        const journal::Digest& vector);
/// Keeps the last 64 vectors.
Result<void> rememberVector(journal::Journal& journal, const journal::Digest& vector,
                            const std::vector<journal::Head>& heads);

/// Somebody else wrote under the own key (X3); stays until the origin is renewed, so that
/// a device that died before it could renew does so the next time.
bool ownOriginForked(const journal::Journal& journal);
Result<void> rememberForked(journal::Journal& journal);

}  // namespace swardwalk::exchange
