#pragma once

#include <string>

namespace swardwalk::server {

/// The first address of this machine that others can reach, in numbers; empty where it has
/// none but its own loopback.
std::string ownNetworkAddress();

}  // namespace swardwalk::server
