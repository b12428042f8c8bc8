#pragma once

#include <optional>
#include <string>

#include "common/failure.h"

namespace swardwalk::mobile {

/// The shed with which this tablet is paired, whatever its address today.
struct PairedShed {
  std::string fingerprint;  ///< SHA-256 of its certificate, 64 digits
  std::string token;        ///< lets this tablet in
};

/// Kept in `shed.json` of the data folder, which only its owner may read; nothing where this
/// tablet was never paired, or the file cannot be read.
std::optional<PairedShed> pairedShed(const std::string& directory);
Result<void> keepPairedShed(const std::string& directory, const PairedShed& shed);

}  // namespace swardwalk::mobile
