#pragma once

#include <optional>
#include <string>

#include "common/failure.h"
#include "server/tls/fingerprint.h"

namespace swardwalk::server {

/// What a data directory remembers of a shed that it met.
struct KnownShed {
  Fingerprint fingerprint{};  ///< of the certificate that is pinned
  std::string token;          ///< lets this device in; empty: not paired
};

/// What the directory remembers of the shed at this address ("https://host:port"), in its
/// file `sheds.json`; nothing where they never met.
Result<std::optional<KnownShed>> knownShed(const std::string& directory,
                                           const std::string& address);

/// Remembers it durably, in a file that only its owner may read.
Result<void> rememberShed(const std::string& directory, const std::string& address,
                          const KnownShed& shed);

}  // namespace swardwalk::server
