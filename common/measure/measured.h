#pragma once

#include <optional>
#include <span>

namespace swardwalk::measure {

/// A quantity with its standard uncertainty (JCGM 100:2008, "GUM"), both in the
/// unit that the name of the variable states. An unknown uncertainty is unknown,
/// never zero (rule Q1): what is computed from it has none either.
/// Plain value type; safe to share between threads.
struct Measured {
  double value = 0.0;
  std::optional<double> u;  ///< standard uncertainty, 0 or more

  friend bool operator==(const Measured&, const Measured&) = default;
};

/// An exact number: uncertainty 0.
Measured exact(double value);

/// Sum and difference of independent quantities (GUM 5.1.2).
Measured operator+(const Measured& a, const Measured& b);
Measured operator-(const Measured& a, const Measured& b);

/// Product and quotient of independent quantities, first order (GUM 5.1.2).
/// The divisor must not be 0.
Measured operator*(const Measured& a, const Measured& b);
Measured operator/(const Measured& a, const Measured& b);
Measured operator*(double factor, const Measured& a);

/// Sum of independent quantities, in the order given.
Measured sum(std::span<const Measured> terms);

/// A value known to lie in [low, high] and nothing else: rectangular
/// distribution about `value`, u = (high - low) / sqrt(12) (GUM 4.3.7).
Measured inRange(double value, double low, double high);

/// Standard uncertainty of y = f(x1..xn) with correlated inputs, first order (GUM 5.2.2):
/// `sensitivities` are the partial derivatives, `correlations` the n x n matrix of
/// correlation coefficients row by row (ones on its diagonal). All spans must fit n.
/// Unknown where an input's uncertainty is.
std::optional<double> propagated_u(std::span<const double> sensitivities,
                                   std::span<const std::optional<double>> uncertainties,
                                   std::span<const double> correlations);

}  // namespace swardwalk::measure
