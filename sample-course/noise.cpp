#include "sample-course/noise.h"

#include <cmath>
#include <numbers>

namespace swardwalk::sample {

Noise::Noise(std::uint64_t seed) : state_(seed) {}

std::uint64_t Noise::bits() {
  state_ += 0x9E3779B97F4A7C15ULL;
  std::uint64_t mixed = state_;
  mixed = (mixed ^ (mixed >> 30)) * 0xBF58476D1CE4E5B9ULL;
  mixed = (mixed ^ (mixed >> 27)) * 0x94D049BB133111EBULL;
  return mixed ^ (mixed >> 31);
}

double Noise::uniform() { return static_cast<double>(bits() >> 11) * 0x1.0p-53; }

double Noise::between(double low, double high) { return low + (high - low) * uniform(); }

bool Noise::chance(double probability) { return uniform() < probability; }

double Noise::normal() {
  const double radius = std::sqrt(-2.0 * std::log(1.0 - uniform()));
  return radius * std::cos(2.0 * std::numbers::pi * uniform());
}

DriftingError::DriftingError(Noise& noise, double sigma_m, double time_s)
    : noise_(&noise), sigma_m_(sigma_m), time_s_(time_s), error_m_(sigma_m * noise.normal()) {}

double DriftingError::next(double step_s) {
  const double kept = std::exp(-step_s / time_s_);
  error_m_ = kept * error_m_ + sigma_m_ * std::sqrt(1.0 - kept * kept) * noise_->normal();
  return error_m_;
}

}  // namespace swardwalk::sample
