#pragma once

#include "server/http/message.h"
#include "server/shed/shed.h"

namespace swardwalk::server {

/// POST /exchange: one message in, one out, as PROTOCOL.md says. A blank asker that meets
/// a blank shed makes the shed found the course first.
Response answerExchange(Shed& shed, const Request& request);

}  // namespace swardwalk::server
