#pragma once

#include <string>
#include <string_view>

namespace swardwalk::server {

/// A text of at most 1,000 bytes as a QR picture in SVG (ISO/IEC 18004, 15 % may be
/// damaged), black on white with its quiet zone.
std::string qrPicture(std::string_view text);

}  // namespace swardwalk::server
