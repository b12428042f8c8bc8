#pragma once

#include "server/shed/shed.h"
#include "server/worker.h"

namespace swardwalk::server {

/// The one thread on which the journal is used.
using Store = Worker<Shed>;

}  // namespace swardwalk::server
