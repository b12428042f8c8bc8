#pragma once

#include <string>

namespace swardwalk::server {

/// While it lives, what this thread logs carries the name of a request. Not for coroutines,
/// which share their thread.
class RequestScope {
 public:
  explicit RequestScope(std::string id) { current() = std::move(id); }
  ~RequestScope() { current().clear(); }
  RequestScope(const RequestScope&) = delete;
  RequestScope& operator=(const RequestScope&) = delete;

  /// Empty where this thread answers none.
  static std::string& current() {
    static thread_local std::string id;
    return id;
  }
};

}  // namespace swardwalk::server
