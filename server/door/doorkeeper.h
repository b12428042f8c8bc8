#pragma once

#include <functional>
#include <memory>

#include "server/door/sessions.h"
#include "server/http/message.h"

namespace swardwalk::server {

/// Knows who asks. Looks at the door's file for every request, so that what another process
/// decides holds at once. Use from one thread, the sessions'.
class Doorkeeper {
 public:
  using Clock = std::function<std::int64_t()>;  ///< wall clock, ms since 1970

  Doorkeeper(std::unique_ptr<DoorFile> file, Door door, Clock clock);

  /// A file that cannot be read lets nobody in: the failure says why.
  Result<Caller> whoAsks(const Request& request);

 private:
  std::unique_ptr<DoorFile> file_;
  Devices devices_;
  People people_;
  Sessions sessions_;
  Door door_;
  Clock clock_;
};

}  // namespace swardwalk::server
