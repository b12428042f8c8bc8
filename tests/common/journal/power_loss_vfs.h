#pragma once

#include <memory>
#include <string>

namespace swardwalk::journal {

/// An SQLite VFS over the system's that keeps what was written and not yet synced in
/// memory: `losePower` drops it, the way a machine does that loses power, and from then
/// on every file that was open fails. What was synced stands in the real files. Names of
/// files and their deletion are durable at once.
/// Registered under `name()` as long as the object lives; use from one thread.
class PowerLossVfs {
 public:
  PowerLossVfs();
  ~PowerLossVfs();
  PowerLossVfs(const PowerLossVfs&) = delete;
  PowerLossVfs& operator=(const PowerLossVfs&) = delete;

  const std::string& name() const;
  void losePower();
  /// How often a file was synced since the beginning.
  int syncs() const;

 private:
  struct Disk;
  std::unique_ptr<Disk> disk_;
};

}  // namespace swardwalk::journal
