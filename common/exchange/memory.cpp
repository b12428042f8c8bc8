#include "common/exchange/memory.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "common/exchange/lines.h"

namespace swardwalk::exchange {
namespace {

constexpr unsigned slots = 64;
constexpr const char* nextSlot = "exchange:next vector";
constexpr const char* forkedOrigin = "exchange:forked origin";
constexpr std::size_t digestDigits = 64;
constexpr std::string_view openMark = " open";

std::string slotName(unsigned slot) { return fmt::format("exchange:vector {}", slot); }
std::string peerNote(const std::string& peerName) { return "peer:" + peerName; }

/// The note of the slot that holds this vector.
std::optional<std::string> slotOf(const journal::Journal& journal, const journal::Digest& vector) {
  const std::string wanted = journal::hex(vector);
  for (unsigned slot = 0; slot < slots; ++slot) {
    auto note = journal.note(slotName(slot));
    if (!note) return std::nullopt;
    if (note->starts_with(wanted)) return note;
  }
  return std::nullopt;
}

}  // namespace

std::optional<PeerMemory> recallPeer(const journal::Journal& journal, const std::string& peerName) {
  const auto note = journal.note(peerNote(peerName));
  if (!note) return std::nullopt;
  std::string_view text = *note;
  PeerMemory memory;
  memory.open = text.ends_with(openMark);
  if (memory.open) text.remove_suffix(openMark.size());
  auto held = parseHeads(text, 2 * limits::heads);
  if (!held) return std::nullopt;
  memory.held = std::move(*held);
  return memory;
}

Result<void> rememberPeer(journal::Journal& journal, const std::string& peerName,
                          const PeerMemory& memory) {
  std::string text = writeHeads(memory.held);
  if (memory.open) text += openMark;
  const std::string key = peerNote(peerName);
  if (journal.note(key) == text) return {};
  return journal.setNote(key, text);
}

std::optional<std::vector<journal::Head>> headsOfVector(const journal::Journal& journal,
                                                        const journal::Digest& vector) {
  const auto note = slotOf(journal, vector);
  if (!note) return std::nullopt;
  auto heads = parseHeads(std::string_view(*note).substr(digestDigits), limits::heads);
  if (!heads) return std::nullopt;
  return std::move(*heads);
}

Result<void> rememberVector(journal::Journal& journal, const journal::Digest& vector,
                            const std::vector<journal::Head>& heads) {
  if (slotOf(journal, vector)) return {};
  unsigned slot = 0;
  if (const auto next = journal.note(nextSlot)) {
    std::from_chars(next->data(), next->data() + next->size(), slot);
    slot %= slots;
  }
  if (auto set = journal.setNote(slotName(slot), journal::hex(vector) + writeHeads(heads)); !set) {
    return set;
  }
  return journal.setNote(nextSlot, std::to_string((slot + 1) % slots));
}

bool ownOriginForked(const journal::Journal& journal) {
  if (!journal.course()) return false;
  const auto heads = journal.heads();
  const auto own = std::count_if(heads.begin(), heads.end(), [&](const journal::Head& head) {
    return head.origin == journal.origin();
  });
  return own > 1 || journal.note(forkedOrigin) == journal::hex(journal.origin());
}

Result<void> rememberForked(journal::Journal& journal) {
  const std::string own = journal::hex(journal.origin());
  if (journal.note(forkedOrigin) == own) return {};
  return journal.setNote(forkedOrigin, own);
}

}  // namespace swardwalk::exchange
