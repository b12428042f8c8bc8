#include "server/door/qr_picture.h"

#include <fmt/format.h>

#include <cassert>
#include <qrcodegen/qrcodegen.hpp>

namespace swardwalk::server {

std::string qrPicture(std::string_view text) {
  assert(text.size() <= 1000);
  using qrcodegen::QrCode;
  constexpr int quiet = 4;  // modules, as the standard asks
  const QrCode code = QrCode::encodeText(std::string(text).c_str(), QrCode::Ecc::MEDIUM);
  std::string path;
  for (int y = 0; y < code.getSize(); ++y) {
    for (int x = 0; x < code.getSize(); ++x) {
      if (code.getModule(x, y)) path += fmt::format("M{} {}h1v1h-1z", x + quiet, y + quiet);
    }
  }
  const int side = code.getSize() + 2 * quiet;
  return fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0} {0}\" "
      "shape-rendering=\"crispEdges\"><title>Pairing code</title>"
      "<path fill=\"#fff\" d=\"M0 0h{0}v{0}H0z\"/><path fill=\"#000\" d=\"{1}\"/></svg>\n",
      side, path);
}

}  // namespace swardwalk::server
