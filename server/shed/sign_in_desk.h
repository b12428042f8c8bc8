#pragma once

#include <functional>
#include <memory>

#include "server/door/sessions.h"
#include "server/door/slowing.h"
#include "server/http/message.h"
#include "server/worker.h"

namespace swardwalk::server {

/// POST /sign-in: takes a name and a password, and begins a session. A tenth of a second
/// of one processor goes into each try, so it stands on a thread of its own. Wrong tries
/// are slowed down by address, and by name for browsers in which that person never signed
/// in: a stranger who guesses keeps nobody waiting who is at home. Use from one thread.
class SignInDesk {
 public:
  using Clock = std::function<std::int64_t()>;  ///< wall clock, ms since 1970
  using Stopwatch = std::function<Slowing::Moment()>;

  SignInDesk(std::unique_ptr<DoorFile> door, Clock clock,
             Stopwatch stopwatch = std::chrono::steady_clock::now);

  /// Does not throw.
  Response answer(const Request& request);

 private:
  Response tryOnce(const Request& request, const std::string& name, const std::string& password);
  Response welcome(const Request& request, const Person& person);

  std::unique_ptr<DoorFile> door_;
  People people_;
  Sessions sessions_;
  Clock clock_;
  Stopwatch stopwatch_;
  Slowing byPlace_;
  Slowing byName_;
  std::string nobody_;  ///< a digest that costs as much as a real one
};

using SignInWorker = Worker<SignInDesk>;
/// More than this do not wait for the desk: they are told to come again.
inline constexpr std::size_t mostAtTheDesk = 8;

}  // namespace swardwalk::server
