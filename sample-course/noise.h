#pragma once

#include <cstdint>

namespace swardwalk::sample {

/// Random numbers from one seed, the same on every machine (the standard library's
/// distributions are not). Use from one thread.
class Noise {
 public:
  explicit Noise(std::uint64_t seed);

  /// 64 random bits (splitmix64).
  std::uint64_t bits();
  /// In [0, 1).
  double uniform();
  double between(double low, double high);
  bool chance(double probability);
  /// Standard normal, by Box and Muller.
  double normal();

 private:
  std::uint64_t state_;
};

/// The error of a satellite receiver on one axis: a first-order Gauss-Markov process,
/// which drifts slowly instead of jumping from fix to fix.
class DriftingError {
 public:
  DriftingError(Noise& noise, double sigma_m, double time_s);

  /// The error `step_s` seconds after the last one.
  double next(double step_s);

 private:
  Noise* noise_;
  double sigma_m_;
  double time_s_;
  double error_m_;
};

}  // namespace swardwalk::sample
