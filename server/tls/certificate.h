#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "common/failure.h"

namespace swardwalk::server {

/// Where a certificate (with those that vouch for it) and its private key lie, in PEM;
/// may be one file.
struct CertificateFiles {
  std::string certificate;
  std::string key;
};

/// The data directory's own certificate, `tls.pem`, readable by its owner alone. Where
/// there is none it is made: an ECDSA key on P-256, signed by itself, for ten years.
/// Tablets pin it, so `names` (hosts and addresses) only please browsers.
Result<CertificateFiles> ownCertificate(const std::string& directory,
                                        const std::vector<std::string>& names, std::int64_t now_ms);

}  // namespace swardwalk::server
