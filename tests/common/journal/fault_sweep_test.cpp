#include <gtest/gtest.h>

#include "tests/common/journal/devices.h"
#include "tests/common/journal/virtual_disk.h"

// A day in the life of a journal, with a fault at its 1st, 2nd, 3rd … write, sync or open,
// until it goes through without one. Whatever was said to be done is there afterwards, the
// journal is whole, and the rest of the day can be done.
namespace swardwalk::journal {
namespace {

using Operation = VirtualDisk::Operation;

enum class Fault { failsOnce, killed, losesPower };

/// What others wrote, once for all days.
struct Others {
  TempFolder folder;
  Device shed{folder.file("shed"), 1};
  std::vector<Run> runs;
  Digest named{};

  Others() {
    shed.found();
    for (int i = 0; i < 5; ++i) shed.write("A", std::to_string(i));
    named = shed.last().digest;
    runs = allRuns(shed.journal());
  }
};

class Day {
 public:
  Day(const Others& others, Fault fault, Operation operation, std::uint64_t count)
      : others_(others), fault_(fault) {
    vfs_.add("disk", disk_);
    if (fault == Fault::failsOnce)
      disk_.failAt(operation, count);
    else
      disk_.dieAt(operation, count);
  }

  /// Does every task until it is done, across deaths; gives whether a fault came.
  bool live() {
    using Task = bool (Day::*)();
    for (const Task task : {&Day::adopt, &Day::take, &Day::write, &Day::erase, &Day::restart,
                            &Day::renew, &Day::writeMany, &Day::restart}) {
      int tries = 0;
      while (!(isOpen() && (this->*task)())) {
        faulty_ = true;
        if (++tries > 3) {
          ADD_FAILURE() << "does not go on after the fault: " << last_;
          return true;
        }
        recover();
      }
      if (disk_.died()) {
        // The task was done, or a step that may be lost failed: all the same the program is
        // gone.
        faulty_ = true;
        recover();
      }
    }
    expectGood();
    return faulty_ || disk_.failed();
  }

 private:
  bool isOpen() {
    if (journal_) return true;
    JournalOptions options;
    options.file = "/disk/j";
    options.vfs = vfs_.name();
    auto opened = Journal::open(options, signerOf(key_), fold_);
    if (!opened) return failed(opened.error());
    journal_.emplace(std::move(*opened));
    return true;
  }
  bool failed(const Failure& failure) {
    last_ = failure.text();
    EXPECT_FALSE(failure.what.empty() || failure.todo.empty()) << last_;
    return false;
  }
  template <class Value>
  bool done(const Result<Value>& result) {
    return result ? true : failed(result.error());
  }
  void recover() {
    if (fault_ == Fault::losesPower) disk_.losePower();
    if (fault_ == Fault::killed) disk_.killProgram();
    // After a fault that happened once the program lives on.
    if (fault_ != Fault::failsOnce) journal_.reset();
    if (isOpen()) expectGood();
  }
  void expectGood() {
    for (const Head& head : claims_) EXPECT_TRUE(journal_->holds(head)) << head.number;
    const auto report = journal_->check();
    ASSERT_TRUE(report) << report.error().text();
    for (const Finding& finding : report->findings)
      ADD_FAILURE() << finding.where << ": " << finding.what;
  }
  void claim() {
    for (const Head& head : journal_->heads()) claims_.push_back(head);
  }

  bool adopt() { return done(journal_->adopt(*others_.shed.journal().course())); }
  bool take() {
    const auto taken = journal_->take(others_.runs, Vouching::accepted);
    if (taken && !disk_.died()) claim();
    return done(taken);
  }
  bool write() { return append(1); }
  bool writeMany() { return append(60); }
  bool append(std::size_t count) {
    const std::vector<Draft> drafts(count, noteOn("B", "\"two\""));
    const auto written = journal_->append(drafts);
    if (written && !disk_.died()) claim();
    return done(written);
  }
  bool erase() {
    const auto erased = journal_->erase(others_.named);
    return done(erased);
  }
  bool restart() {
    journal_.reset();
    return isOpen();
  }
  bool renew() {
    const auto changed = journal_->changeOrigin(signerOf(++key_), "a fault", 5);
    return done(changed);
  }

  Others const& others_;
  Fault fault_;
  VirtualDisk disk_;
  VirtualVfs vfs_;
  TallyFold fold_;
  std::uint8_t key_ = 2;
  std::optional<Journal> journal_;
  std::vector<Head> claims_;
  std::string last_;
  bool faulty_ = false;
};

class FaultSweep : public testing::TestWithParam<std::tuple<Fault, Operation>> {};

TEST_P(FaultSweep, WhatWasSaidToBeDoneIsThereAndTheRestGoesOn) {
  const auto [fault, operation] = GetParam();
  const Others others;
  std::uint64_t faults = 0;
  for (std::uint64_t count = 1;; ++count) {
    SCOPED_TRACE("fault number " + std::to_string(count));
    if (!Day(others, fault, operation, count).live()) break;
    ++faults;
    if (HasFailure()) return;
    ASSERT_LT(count, 2000U) << "no day goes through";
  }
  // Files are opened twice a start, each commit syncs once and writes some pages.
  EXPECT_GE(faults, operation == Operation::open ? 4U : operation == Operation::sync ? 8U : 40U);
}

std::string nameOf(const testing::TestParamInfo<std::tuple<Fault, Operation>>& named) {
  constexpr const char* faults[] = {"Fails", "Killed", "PowerLost"};
  constexpr const char* operations[] = {"Write", "Sync", "Open"};
  return std::string(faults[static_cast<int>(std::get<0>(named.param))]) + "At" +
         operations[static_cast<int>(std::get<1>(named.param))];
}

INSTANTIATE_TEST_SUITE_P(
    Journal, FaultSweep,
    testing::Combine(testing::Values(Fault::failsOnce, Fault::killed, Fault::losesPower),
                     testing::Values(Operation::write, Operation::sync, Operation::open)),
    nameOf);

}  // namespace
}  // namespace swardwalk::journal
