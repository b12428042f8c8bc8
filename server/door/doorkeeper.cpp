#include "server/door/doorkeeper.h"

namespace swardwalk::server {

Doorkeeper::Doorkeeper(std::unique_ptr<DoorFile> file, Door door, Clock clock)
    : file_(std::move(file)),
      devices_(*file_),
      people_(*file_),
      sessions_(*file_),
      door_(door),
      clock_(std::move(clock)) {}

Result<Caller> Doorkeeper::whoAsks(const Request& request) {
  Caller caller;
  caller.door = door_;
  caller.needsSignIn = door_ == Door::guarded;
  if (door_ == Door::open) {
    const auto any = people_.any();
    if (!any) return tl::unexpected(any.error());
    caller.needsSignIn = *any;
  }
  if (const auto session = request.cookie(sessionCookie); !session.empty()) {
    auto person = sessions_.whose(session, clock_());
    if (!person) return tl::unexpected(person.error());
    caller.person = std::move(*person);
  }
  if (!request.token.empty()) {
    auto device = devices_.withToken(request.token);
    if (!device) return tl::unexpected(device.error());
    caller.device = std::move(*device);
  }
  return caller;
}

}  // namespace swardwalk::server
