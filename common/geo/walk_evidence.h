#pragma once

#include <array>
#include <span>
#include <vector>

#include "common/geo/walk_steps.h"

namespace swardwalk::geo {

/// What is believed of a walk's errors: how long the receiver's last, and how well the
/// walker kept to the edge. Nobody is told either, so both are weighed.
struct WalkErrors {
  /// A time after which the receiver's error has faded (Gauss-Markov), and its weight;
  /// the weights sum to 1.
  struct Belief {
    double errorTime_s = 0.0;
    double weight = 0.0;
  };
  static constexpr std::size_t times = 8;
  std::array<Belief, times> beliefs;
  /// Standard uncertainty of the walker's distance from the edge, on each axis.
  double edge_u_m = 0.0;

  /// The mean of `variance(errorTime_s)` over the beliefs.
  template <class Variance>
  double mean(Variance variance) const {
    double sum = 0.0;
    for (const Belief& belief : beliefs) sum += belief.weight * variance(belief.errorTime_s);
    return sum;
  }
};

/// Weighs error times between the settings' shortest and longest, and the walker's
/// deviation, by how rough the walk is.
///
/// Before the walk is looked at, half the weight lies evenly on the times and half evenly
/// on their logarithms, because nobody knows which. Then each fix is compared with the
/// cubic through its four neighbours about a metre apart, which follows any bend of a
/// green's size: what remains is the receiver's drift, of variance w' S(errorTime) w, and
/// the walker's swerve. The likelihood of all remainders gives the weights; corners
/// count little. A twentieth stays with the prior whatever the walk
/// says: a receiver that smooths its positions looks calmer than it errs.
/// `steps` in order of time; few of them leave the prior as it was.
WalkErrors errorsOf(std::span<const Step> steps, const WalkSettings& settings);

}  // namespace swardwalk::geo
