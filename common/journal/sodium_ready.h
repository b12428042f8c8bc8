#pragma once

namespace swardwalk::journal {

/// libsodium must be initialised once before its first use; cheap and thread-safe.
void sodiumReady();

}  // namespace swardwalk::journal
