#include "common/journal/sodium_ready.h"

#include <sodium.h>

#include <cstdlib>

namespace swardwalk::journal {

void sodiumReady() {
  static const bool ready = [] {
    // Without its source of randomness nothing here could be trusted.
    if (sodium_init() < 0) std::abort();
    return true;
  }();
  (void)ready;
}

}  // namespace swardwalk::journal
