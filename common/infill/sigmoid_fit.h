#pragma once

#include <optional>
#include <span>

#include "common/infill/weighted_line.h"

namespace swardwalk::infill {

/// Growth that begins slowly and ends at a top:
/// y = top / (1 + exp(offset - rate x))^(1/power). A power of 1 is the logistic curve.
struct Sigmoid {
  double top = 1.0;
  double offset = 0.0;
  double rate = 0.0;
  double power = 1.0;

  double at(double x) const;
};

/// Offset and rate are always fitted; top and power where asked for.
struct SigmoidFree {
  bool top = false;
  bool power = false;
};

struct SigmoidFit {
  Sigmoid curve;
  Sigmoid u;  ///< standard uncertainties by the u given; 0 of what was held
  double chiSquared = 0.0;
  int freedom = 0;
};

/// Weighted nonlinear least squares (Levenberg & Marquardt, Eigen's). Nothing with fewer
/// points than parameters, or where it does not settle on finite numbers.
std::optional<SigmoidFit> fitSigmoid(std::span<const WeightedPoint> points, const Sigmoid& start,
                                     SigmoidFree free);

}  // namespace swardwalk::infill
