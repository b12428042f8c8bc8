#pragma once

#include <memory>
#include <string>

#include "server/command/command_line.h"
#include "server/http/wire.h"

namespace swardwalk::server {

/// How a shed at an address is spoken to.
struct ShedLink {
  std::unique_ptr<Wire> wire;
  std::string host;   ///< HOST:PORT
  std::string token;  ///< lets this device in; empty: not paired
};

/// Is this the address of a shed, and not of a file?
bool isShedAddress(const std::string& with);

/// Prepares a connection to the shed of `exchange`: plain, or encrypted with the
/// certificate that is pinned by --fingerprint (remembered then) or was before. An
/// encrypted shed whose certificate nobody named is `refused`.
Result<ShedLink> linkTo(const CommandLine& line);

}  // namespace swardwalk::server
