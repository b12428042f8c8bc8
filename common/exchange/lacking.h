#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "common/exchange/message.h"
#include "common/journal/journal.h"

/// What one side lacks of the other's records. PROTOCOL.md, "What the other side lacks",
/// gives the rules. Both sides of an exchange use the same ones.
namespace swardwalk::exchange {

/// What the other side said that it holds.
struct Held {
  std::vector<journal::Head> heads;
  std::vector<journal::Head> points;  ///< below its heads; a ladder
};

/// A branch of ours and from where on the other side lacks it.
struct Lack {
  journal::Head head;
  std::uint64_t after = 0;
};

struct Plan {
  std::vector<Lack> send;
  /// The other side holds records that are not here.
  bool othersUnknown = false;
  /// Where the other side's branch and ours part is not known: nothing is sent yet.
  bool undecided = false;
  /// Points to state, so that the other side can find where its branch and ours part.
  std::vector<journal::Head> ladder;
};

/// The branches of one journal at one moment, and how points lie on them.
class Branches {
 public:
  explicit Branches(const journal::Journal& journal) : journal_(journal), heads_(journal.heads()) {}

  /// Sorted by origin.
  const std::vector<journal::Head>& heads() const { return heads_; }
  /// The heads to state: as if whatever a rescue saved without its body were not here, so that
  /// the other side sends it once more.
  std::vector<journal::Head> stated() const;
  std::span<const journal::Head> of(const journal::OriginKey& origin) const;

  bool liesOn(const journal::Head& point, const journal::Head& head) const;
  /// The head of a branch on which `point` lies; nothing where it is not held.
  const journal::Head* branchWith(const journal::Head& point) const;
  /// The highest number up to which two branches of an origin are the same.
  std::uint64_t common(const journal::Head& one, const journal::Head& other) const;
  /// The highest number on `head`'s branch that whoever holds `point` holds too;
  /// nothing where `point` is not held here.
  std::optional<std::uint64_t> commonWith(const journal::Head& point,
                                          const journal::Head& head) const;

  Plan plan(const Held& held) const;

  /// How many records lie above these points.
  std::uint64_t countAbove(const std::vector<journal::Head>& points) const;

  /// Of these points the highest on each branch, and those that are unknown here.
  std::vector<journal::Head> highest(const std::vector<journal::Head>& points) const;

 private:
  void planOrigin(std::span<const journal::Head> mine, std::span<const journal::Head> heads,
                  std::span<const journal::Head> points, Plan& plan) const;

  const journal::Journal& journal_;
  std::vector<journal::Head> heads_;
};

/// Fills a message with what the plan sends, up to the limits. Gives true when not
/// everything fitted.
Result<bool> fill(const journal::Journal& journal, const std::vector<Lack>& send,
                  std::size_t maxRecords, std::vector<journal::Run>& runs);

/// The head that a run ends in.
journal::Head endOf(const journal::Run& run);

}  // namespace swardwalk::exchange
