#include "common/infill/drift.h"

#include <algorithm>
#include <cmath>

namespace swardwalk::infill {
namespace {

/// Variance of the logarithm of the mean rate from a known rate on, over so many memories.
double ofMeanRate(double part) {
  if (part < 1e-2) return held2 * 2.0 / 3.0 * std::max(0.0, part);
  const double left = std::exp(-part);
  return held2 * (2.0 * part - 3.0 + 4.0 * left - left * left) / (part * part);
}

}  // namespace

double strayed_mm2(double a_d, double b_d) {
  const double near = std::min(a_d, b_d) / driftMemory_d;
  const double far = std::max(a_d, b_d) / driftMemory_d;
  const double nearLeft = std::exp(-near);
  const double farLeft = std::exp(-far);
  const double apart = 2.0 * near - 1.0 + nearLeft + farLeft - std::exp(near - far);
  const double since = near * (1.0 - farLeft) + far * (1.0 - nearLeft) - near * far;
  // Differences of nearly equal numbers: never below nothing.
  return held2 * driftMemory_d * driftMemory_d * std::max(0.0, apart - since);
}

double forgotten(double days_d) {
  const double part = days_d / driftMemory_d;
  // The series of the same, where the difference would lose all digits.
  if (part < 1e-3) return 0.5 * std::max(0.0, part);
  return 1.0 - (1.0 - std::exp(-part)) / part;
}

double driftAhead(double days_d, double now_u) {
  const double part = days_d / driftMemory_d;
  const double lost = forgotten(days_d) * now_u;
  return std::sqrt(ofMeanRate(part) + lost * lost);
}

double driftLift(double days_d) {
  const double part = days_d / driftMemory_d;
  if (part < 1e-2) return held2 * std::max(0.0, part) / 6.0;
  const double ofRate = held2 * (1.0 - (1.0 - std::exp(-2.0 * part)) / (2.0 * part));
  return 0.5 * (ofRate - ofMeanRate(part));
}

}  // namespace swardwalk::infill
