#pragma once

#include <chrono>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "common/failure.h"
#include "server/http/wire.h"

namespace swardwalk::server {

/// Carries messages to a shed and its answers back, over one kept connection of HTTP/1.1.
/// A shed that says that it is busy is asked again, as PROTOCOL.md has it and within the
/// limits; whatever else breaks is a failure, whose place the caller names. Use from one
/// thread.
class ExchangeClient {
 public:
  using Pause = std::function<void(std::chrono::milliseconds)>;

  /// `host` is how the shed is addressed; `token` lets a paired device in, empty: none;
  /// `pause` waits.
  ExchangeClient(std::unique_ptr<Wire> wire, std::string host, std::string token = {},
                 Pause pause = {});

  /// Sends a compressed message; `take` gets the answer's bytes, still compressed, as
  /// they come, so that what arrives before a cut is not lost. Failures of `take` end it.
  /// An answer that is an error is a failure in the shed's own words.
  Result<void> post(std::string_view message,
                    const std::function<Result<void>(std::string_view)>& take);

  /// Sends a part of a picture, and gives the shed's answer. `full` where its disk is full,
  /// `refused` where it does not take this picture; the connection stays open then.
  Result<std::string> sendPhoto(std::string_view target, std::string_view bytes);

  /// POST /pair: the shed's answer, or its refusal in its own words.
  Result<std::string> pair(std::string_view question);

 private:
  using Take = std::function<Result<void>(std::string_view)>;

  Result<void> ask(std::string_view target, std::string_view type, std::string_view body,
                   const Take& take);
  /// `retryAfter` is set where the shed says that it is busy, empty where it does not say
  /// for how long.
  Result<void> askOnce(std::string_view target, std::string_view type, std::string_view body,
                       const Take& take, std::optional<std::string>& retryAfter);

  std::unique_ptr<Wire> wire_;
  std::string host_;
  std::string token_;
  Pause pause_;
};

}  // namespace swardwalk::server
