// Files with outlines and tracks of every kind: what is read can be measured or is refused,
// and what is measured is a finite number.
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string>

#include "common/interchange/outline_file.h"

using namespace swardwalk;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const interchange::OutlineFile file =
      interchange::readOutlines({"file", std::string(data, data + size)});
  for (const answers::ToMeasure& outline : file.outlines) {
    const auto measured = answers::measureOutline(outline, measure::UnitSystem::metric);
    if (!measured) continue;
    const double area_m2 = measured->area_m2.value;
    const bool sound = std::isfinite(area_m2) && area_m2 >= 0.0 &&
                       std::isfinite(measured->perimeter_m.value) &&
                       std::isfinite(measured->area_m2.u.value_or(0.0));
    if (!sound) std::abort();
  }
  if (file.outlines.empty() && file.refusals.empty()) std::abort();
  return 0;
}
