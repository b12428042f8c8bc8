#pragma once

#include "server/http/message.h"
#include "server/shed/shed.h"

namespace swardwalk::server {

/// POST /photos/DIGEST?from=N&of=N: a part of a picture that a record names; PROTOCOL.md.
Response takePhoto(Shed& shed, const Request& request);

/// GET /photo/DIGEST: a picture that a record names, for the page. One that turns out to be
/// damaged is dropped, so that the next exchange brings it again.
Response givePhoto(Shed& shed, const Request& request);

}  // namespace swardwalk::server
