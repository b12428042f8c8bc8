#include "server/door/slowing.h"

#include <algorithm>

namespace swardwalk::server {

std::chrono::milliseconds Slowing::wait(const std::string& who, Moment now) const {
  const auto found = tries_.find(who);
  if (found == tries_.end() || found->second.next <= now) return std::chrono::milliseconds(0);
  return std::chrono::ceil<std::chrono::milliseconds>(found->second.next - now);
}

void Slowing::failed(const std::string& who, Moment now) {
  if (tries_.size() >= rule_.remembered && !tries_.contains(who)) makeRoom(now);
  Tries& tries = tries_[who];
  if (tries.count > 0 && now - tries.last > rule_.forgotten) tries.count = 0;
  ++tries.count;
  tries.last = now;
  tries.next = now;
  if (tries.count < rule_.free) return;
  // Ten doublings are beyond any wait that is meant.
  const unsigned doublings = std::min(tries.count - rule_.free, 10U);
  tries.next = now + std::min(rule_.first * (1U << doublings), rule_.longest);
}

void Slowing::makeRoom(Moment now) {
  std::erase_if(tries_, [&](const auto& one) { return now - one.second.last > rule_.forgotten; });
  while (tries_.size() >= rule_.remembered) {
    tries_.erase(std::min_element(tries_.begin(), tries_.end(), [](const auto& a, const auto& b) {
      return a.second.last < b.second.last;
    }));
  }
}

}  // namespace swardwalk::server
