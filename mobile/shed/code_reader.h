#pragma once

#include <QString>
#include <optional>

#include "common/exchange/pairing.h"

namespace swardwalk::mobile {

/// The pairing code in a picture of what the shed shows as a QR code (ISO/IEC 18004), turned
/// or tilted as a hand takes it; nothing where the picture has none, or cannot be read.
std::optional<exchange::PairingCard> pairingCardIn(const QString& picture);

}  // namespace swardwalk::mobile
