#include "common/measure/measured.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace swardwalk::measure {
namespace {

/// Root of the summed squares of two contributions; unknown where either is.
std::optional<double> combined(std::optional<double> a, double factorA, std::optional<double> b,
                               double factorB) {
  if (!a || !b) return std::nullopt;
  return std::hypot(*a * factorA, *b * factorB);
}

}  // namespace

Measured exact(double value) { return {value, 0.0}; }

Measured operator+(const Measured& a, const Measured& b) {
  return {a.value + b.value, combined(a.u, 1.0, b.u, 1.0)};
}

Measured operator-(const Measured& a, const Measured& b) {
  return {a.value - b.value, combined(a.u, 1.0, b.u, 1.0)};
}

Measured operator*(const Measured& a, const Measured& b) {
  return {a.value * b.value, combined(a.u, b.value, b.u, a.value)};
}

Measured operator/(const Measured& a, const Measured& b) {
  assert(b.value != 0.0);
  return {a.value / b.value, combined(a.u, 1.0 / b.value, b.u, a.value / (b.value * b.value))};
}

Measured operator*(double factor, const Measured& a) {
  Measured product{factor * a.value, a.u};
  if (product.u) product.u = std::abs(factor) * *product.u;
  return product;
}

Measured sum(std::span<const Measured> terms) {
  double value = 0.0;
  double variance = 0.0;
  bool known = true;
  for (const Measured& term : terms) {
    value += term.value;
    known = known && term.u.has_value();
    if (term.u) variance += *term.u * *term.u;
  }
  return {value, known ? std::optional(std::sqrt(variance)) : std::nullopt};
}

Measured inRange(double value, double low, double high) {
  assert(low <= value && value <= high);
  return {value, (high - low) / std::sqrt(12.0)};
}

std::optional<double> propagated_u(std::span<const double> sensitivities,
                                   std::span<const std::optional<double>> uncertainties,
                                   std::span<const double> correlations) {
  const std::size_t count = sensitivities.size();
  assert(uncertainties.size() == count && correlations.size() == count * count);
  double variance = 0.0;
  for (std::size_t i = 0; i < count; ++i) {
    if (!uncertainties[i]) return std::nullopt;
    for (std::size_t j = 0; j < count; ++j) {
      if (!uncertainties[j]) return std::nullopt;
      variance += sensitivities[i] * sensitivities[j] * *uncertainties[i] * *uncertainties[j] *
                  correlations[i * count + j];
    }
  }
  // Rounding may leave a sum that cancels a hair below zero.
  return std::sqrt(std::max(variance, 0.0));
}

}  // namespace swardwalk::measure
