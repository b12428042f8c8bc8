#pragma once

#include "server/http/message.h"
#include "server/shed/shed.h"

namespace swardwalk::server {

/// POST /pair: a device shows a code, and that it holds its origin's key, and gets its
/// token (PROTOCOL.md, "Pairing"). Wrong codes of one address are slowed down.
Response answerPairing(Shed& shed, const Request& request);

/// Accepts the origin of a paired device in the journal, where that was not done: whoever
/// gave the code vouched for it. What of it waits is folded then. Nothing happens while the
/// journal is blank, or where the device was shut out.
Result<void> vouchFor(Shed& shed, const Device& device);

}  // namespace swardwalk::server
