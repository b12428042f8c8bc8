#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <memory>
#include <string>

namespace swardwalk::journal {

/// Gives a whole number below its argument, which is 1 or more.
using Draw = std::function<std::uint64_t(std::uint64_t)>;

struct VirtualFile;

/// The disk of one machine, in memory. It knows what was written and what of it was synced,
/// and goes wrong when it is told to. Use from one thread.
class VirtualDisk {
 public:
  enum class Operation { write, sync, open };
  using Files = std::map<std::string, std::string>;  ///< name and content

  VirtualDisk();
  ~VirtualDisk();
  VirtualDisk(const VirtualDisk&) = delete;
  VirtualDisk& operator=(const VirtualDisk&) = delete;

  /// What a program sees of the files, synced or not; a backup of a moment.
  Files content() const;
  /// Puts other files, all synced, in the place of those that are there. Whoever had one of
  /// those open can't use it any more.
  void replace(const Files& files);

  /// The machine loses power: of what was not synced any part may be on the disk, a sector
  /// in the middle of a write, too. `draw` decides; without it nothing of it is.
  /// Nobody's open files work from then on; a disk that had died works again.
  void losePower(const Draw& draw = {});
  /// The program is killed: nothing is lost, and its open files work no more. Where a sync
  /// failed before, the machine is started anew, too: what such a sync forgot some systems go
  /// on showing to the next program, and no program can know.
  void killProgram();

  /// From the `count`th operation of this kind on (1 is the next) everything fails until
  /// `losePower` or `killProgram`: the program is as good as dead.
  void dieAt(Operation operation, std::uint64_t count);
  /// The `count`th operation of this kind fails once. A sync that fails forgets what it
  /// should have written, as systems do.
  void failAt(Operation operation, std::uint64_t count);
  /// Takes at most `bytes` more in all its files; any number makes room again.
  void room(std::uint64_t bytes);
  /// No fault is to come.
  void mend();

  bool died() const { return died_; }
  /// Has a fault that was asked for with `failAt` or `room` happened?
  bool failed() const { return failed_; }
  std::uint64_t done(Operation operation) const;
  /// A sync that says it is done and does nothing: shows that tests find it.
  void lieAboutSyncs(bool lie) { lies_ = lie; }

 private:
  friend class VirtualVfs;
  friend struct VirtualCalls;

  /// Counts an operation; an SQLite result code.
  int begin(Operation operation, int failure);
  bool takes(std::uint64_t bytes);
  std::uint64_t used() const;
  void deaden();

  std::map<std::string, std::shared_ptr<VirtualFile>> files_;
  int generation_ = 0;  ///< grows when open files stop working
  std::uint64_t done_[3] = {0, 0, 0};
  std::uint64_t dieAt_[3] = {0, 0, 0};   ///< 0: never
  std::uint64_t failAt_[3] = {0, 0, 0};  ///< 0: never
  std::uint64_t limit_ = UINT64_MAX;
  bool died_ = false;
  bool failed_ = false;
  bool lies_ = false;
  bool forgot_ = false;  ///< a sync failed since the machine started
};

/// An SQLite VFS of virtual disks: the file "/NAME/rest" is the file "rest" on the disk
/// NAME. Temporary files go to no disk. Shared memory of write-ahead logs, and locks, work
/// among the connections of this process. Random numbers and time are fixed, so that the
/// same steps give the same bytes.
class VirtualVfs {
 public:
  VirtualVfs();
  ~VirtualVfs();
  VirtualVfs(const VirtualVfs&) = delete;
  VirtualVfs& operator=(const VirtualVfs&) = delete;

  const std::string& name() const;
  void add(const std::string& name, VirtualDisk& disk);

 private:
  struct Inner;
  std::unique_ptr<Inner> inner_;
};

}  // namespace swardwalk::journal
