#include "measured_outlines.h"

#include <cmath>
#include <cstdlib>

namespace swardwalk::fuzz {

void measureAll(const interchange::OutlineFile& file) {
  for (const answers::ToMeasure& outline : file.outlines) {
    const auto measured = answers::measureOutline(outline, measure::UnitSystem::metric);
    if (!measured) continue;
    const double area_m2 = measured->area_m2.value;
    const bool sound = std::isfinite(area_m2) && area_m2 >= 0.0 &&
                       std::isfinite(measured->perimeter_m.value) &&
                       std::isfinite(measured->area_m2.u.value_or(0.0)) &&
                       measured->area_m2.u.value_or(0.0) >= 0.0;
    if (!sound) std::abort();
  }
  if (file.outlines.empty() && file.refusals.empty()) std::abort();
}

std::string bytesOf(const std::uint8_t* data, std::size_t size) {
  return std::string(data, data + size);
}

}  // namespace swardwalk::fuzz
