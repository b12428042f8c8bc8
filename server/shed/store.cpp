#include "server/shed/store.h"

namespace swardwalk::server {

Store::Store(std::unique_ptr<Shed> shed) : shed_(std::move(shed)), thread_([this] { work(); }) {}

Store::~Store() {
  {
    const std::lock_guard lock(mutex_);
    ending_ = true;
  }
  wake_.notify_one();
  thread_.join();
}

void Store::ask(Job job) {
  {
    const std::lock_guard lock(mutex_);
    jobs_.push_back(std::move(job));
  }
  wake_.notify_one();
}

void Store::work() {
  for (;;) {
    Job job;
    {
      std::unique_lock lock(mutex_);
      wake_.wait(lock, [this] { return ending_ || !jobs_.empty(); });
      if (jobs_.empty()) return;
      job = std::move(jobs_.front());
      jobs_.pop_front();
    }
    job(*shed_);
  }
}

}  // namespace swardwalk::server
