#pragma once

#include <condition_variable>
#include <cstddef>
#include <deque>
#include <functional>
#include <limits>
#include <memory>
#include <mutex>
#include <thread>

namespace swardwalk::server {

/// The one thread on which a thing is used: what is wanted of it is done one after the
/// other, in the order in which it was asked. Safe to call from any thread.
template <class Thing>
class Worker {
 public:
  using Job = std::function<void(Thing&)>;

  explicit Worker(std::unique_ptr<Thing> thing,
                  std::size_t mostWaiting = std::numeric_limits<std::size_t>::max())
      : thing_(std::move(thing)), mostWaiting_(mostWaiting), thread_([this] { work(); }) {}

  /// Finishes what was asked for before.
  ~Worker() {
    {
      const std::lock_guard lock(mutex_);
      ending_ = true;
    }
    wake_.notify_one();
    thread_.join();
  }

  Worker(const Worker&) = delete;
  Worker& operator=(const Worker&) = delete;

  /// False where too many wait already: the job is forgotten. `job` must not throw.
  bool ask(Job job) {
    {
      const std::lock_guard lock(mutex_);
      if (jobs_.size() >= mostWaiting_) return false;
      jobs_.push_back(std::move(job));
    }
    wake_.notify_one();
    return true;
  }

 private:
  void work() {
    for (;;) {
      Job job;
      {
        std::unique_lock lock(mutex_);
        wake_.wait(lock, [this] { return ending_ || !jobs_.empty(); });
        if (jobs_.empty()) return;
        job = std::move(jobs_.front());
        jobs_.pop_front();
      }
      job(*thing_);
    }
  }

  std::unique_ptr<Thing> thing_;
  std::size_t mostWaiting_;
  std::mutex mutex_;
  std::condition_variable wake_;
  std::deque<Job> jobs_;
  bool ending_ = false;
  std::thread thread_;
};

}  // namespace swardwalk::server
