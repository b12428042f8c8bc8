#pragma once

#include <condition_variable>
#include <deque>
#include <functional>
#include <memory>
#include <mutex>
#include <thread>

#include "server/shed/shed.h"

namespace swardwalk::server {

/// The one thread on which the journal is used: what sessions want of it is done one
/// after the other, in the order in which it was asked. Safe to call from any thread.
class Store {
 public:
  using Job = std::function<void(Shed&)>;

  explicit Store(std::unique_ptr<Shed> shed);
  /// Finishes what was asked for before.
  ~Store();

  Store(const Store&) = delete;
  Store& operator=(const Store&) = delete;

  /// `job` must not throw.
  void ask(Job job);

 private:
  void work();

  std::unique_ptr<Shed> shed_;
  std::mutex mutex_;
  std::condition_variable wake_;
  std::deque<Job> jobs_;
  bool ending_ = false;
  std::thread thread_;
};

}  // namespace swardwalk::server
