#pragma once

#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "common/course/course_fold.h"
#include "common/exchange/exchange.h"
#include "common/journal/journal.h"
#include "tests/common/journal/virtual_disk.h"
#include "tests/simulation/random.h"
#include "tests/simulation/writing.h"

namespace swardwalk::simulation {

/// A tablet or the shed: a disk with a journal and a key, and the program that uses them.
/// It keeps book of what it claimed to hold: to people by saying that something is saved, to
/// others by the heads that it stated. All of that must be there as long as its disk is (J2,
/// X1, X2).
class Machine {
 public:
  /// What a backup holds, or a copy of the files.
  struct Image {
    journal::VirtualDisk::Files files;
    journal::Signer::Seed key{};
    std::set<journal::Head> claims;
  };

  Machine(journal::VirtualVfs& vfs, std::string name, Random& random);

  const std::string& name() const { return name_; }
  journal::VirtualDisk& disk() { return disk_; }
  bool isUp() const { return journal_.has_value(); }
  journal::Journal& journal() { return *journal_; }
  Build build() const { return build_; }
  void setBuild(Build build) { build_ = build; }

  /// Starts the program. Where faults of the disk keep it from starting they are mended
  /// and it starts again: somebody made room, or changed the card. Checks what was claimed.
  void start();
  /// Ends the program in an orderly way.
  void stop();
  /// Power loss, or a kill with the system still running.
  void crash(bool powerLoss);
  /// Crashes where the disk died, and gives whether it did: nothing that the program said
  /// since then was said.
  bool settle();

  Image image();
  void restore(const Image& image);
  void loseKey();
  /// A new key, as a device takes it when somebody else writes under its own (X3). False
  /// where the disk failed meanwhile.
  bool renewOrigin();

  /// Writes what people did; what was said to be saved is claimed. `refused`: it died.
  Result<void> write(const std::vector<journal::Draft>& drafts);

  void claim(const std::vector<journal::Head>& heads);
  void claimAllHeads() { claim(journal_->heads()); }
  const std::set<journal::Head>& claims() const { return claims_; }
  void checkClaims();

  std::string state();
  /// Records whose bodies somebody wants erased.
  std::set<journal::Digest> erasures();
  /// The device's own clock; jumps by years.
  std::int64_t now_ms = 1'807'000'000'000;

 private:
  Result<void> open();

  std::string name_;
  Random* random_;
  std::string vfs_;
  journal::VirtualDisk disk_;
  journal::Signer::Seed key_{};  ///< the key file: replaced durably and at once
  Build build_ = Build::present;
  std::unique_ptr<course::CourseFold> fold_;
  std::optional<journal::Journal> journal_;
  std::set<journal::Head> claims_;
};

}  // namespace swardwalk::simulation
