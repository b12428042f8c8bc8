#include "common/infill/creep_fit.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <utility>

#include "common/infill/drift.h"
#include "common/infill/edge_points.h"
#include "common/infill/spread.h"
#include "common/infill/weighted_line.h"

namespace swardwalk::infill {
namespace {

// Sizes nearer in time than this say nothing about a rate.
constexpr double shortestSpan_d = 0.5;
constexpr double usualCreep_mm_d = 0.5;
constexpr std::size_t creepSteps = 96;
// Scatter over stated uncertainty, in half octaves.
constexpr std::array scatters = {0.25, 0.354, 0.5, 0.707, 1.0, 1.414, 2.0, 2.828, 4.0};

// The same sizes in coordinates in which drift and measurement are both diagonal.
struct Apart {
  Eigen::VectorXd inset;   ///< y, over u
  Eigen::VectorXd one;     ///< what the edge's place adds
  Eigen::VectorXd before;  ///< growing days before the last size, what creep takes off
  Eigen::VectorXd stray;   ///< variance by drift at 1 mm a day, over that of measurement
};

Apart apart(const std::vector<EdgePoint>& points) {
  const auto count = static_cast<Eigen::Index>(points.size());
  Eigen::VectorXd sure(count);
  Eigen::VectorXd inset(count);
  Eigen::VectorXd before(count);
  for (Eigen::Index i = 0; i < count; ++i) {
    const EdgePoint& point = points[static_cast<std::size_t>(i)];
    sure[i] = 1.0 / point.u_mm;
    inset[i] = point.inset_mm * sure[i];
    before[i] = -point.growing_d * sure[i];
  }
  const Eigen::MatrixXd scaled = sure.asDiagonal() * strayed(points) * sure.asDiagonal();
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solver(scaled);
  const Eigen::MatrixXd turn = solver.eigenvectors().transpose();
  return {turn * inset, turn * sure, turn * before, solver.eigenvalues().cwiseMax(0.0)};
}

// What the sizes say if the creep and the scatter were these.
struct Likely {
  double log = 0.0;  ///< likelihood, the place of the edge integrated out
  double inset_mm = 0.0;
  double variance_mm2 = 0.0;
};

Likely likely(const Apart& sizes, double creep_mm_d, double scatter) {
  double ones = 0.0;
  double onesInset = 0.0;
  double insets = 0.0;
  double widths = 1.0;
  for (Eigen::Index i = 0; i < sizes.one.size(); ++i) {
    const double width = creep_mm_d * creep_mm_d * sizes.stray[i] + scatter * scatter;
    const double inset = sizes.inset[i] + creep_mm_d * sizes.before[i];
    const double weight = 1.0 / width;
    ones += sizes.one[i] * sizes.one[i] * weight;
    onesInset += sizes.one[i] * inset * weight;
    insets += inset * inset * weight;
    widths *= width;
  }
  Likely out;
  out.inset_mm = onesInset / ones;
  out.variance_mm2 = 1.0 / ones;
  out.log = -0.5 * (std::log(widths) + std::log(ones) + insets - onesInset * out.inset_mm);
  return out;
}

// Where prior and fit both leave something; where they contradict each other, all of both.
std::pair<double, double> gridEnds(const LogCreep& prior,
                                   const std::optional<measure::Measured>& seen) {
  double from = std::exp(prior.quantile(1e-5));
  double to = std::exp(prior.quantile(1.0 - 1e-5));
  if (seen) {
    const double seenFrom = seen->value - 6.0 * *seen->u;
    const double seenTo = seen->value + 6.0 * *seen->u;
    if (seenFrom < to && seenTo > from) {
      from = std::max(from, seenFrom);
      to = std::min(to, seenTo);
    } else {
      to = std::max(to, seenTo);
    }
  }
  return {from, std::max(to, from * 1.001)};
}

// Logarithm of the scaled inverse chi-square of the scatter, in its own logarithm.
double logScatter(double scatter, const CreepPool& pool) {
  return -pool.belief * (std::log(scatter) + 0.5 * pool.scatter2 / (scatter * scatter));
}

template <class LogPrior>
class Learner {
 public:
  Learner(Apart sizes, const CreepPool& pool, LogPrior prior)
      : sizes_(std::move(sizes)), prior_(prior) {
    double sum = 0.0;
    for (std::size_t j = 0; j < scatters.size(); ++j) {
      scatterPrior_[j] = logScatter(scatters[j], pool);
      sum += std::exp(scatterPrior_[j] - scatterPrior_[scatters.size() / 2]);
    }
    const double all = std::log(sum) + scatterPrior_[scatters.size() / 2];
    for (double& prior_j : scatterPrior_) prior_j -= all;
  }

  void learn(CreepFit& fit, double from, double to) {
    double most = -1e300;
    for (std::size_t i = 0; i < creepSteps; ++i) {
      const double part = static_cast<double>(i) / static_cast<double>(creepSteps - 1);
      creep_[i] = from * std::exp(part * std::log(to / from));
      const double prior = prior_(std::log(creep_[i]));
      priorSum_ += std::exp(prior);
      for (std::size_t j = 0; j < scatters.size(); ++j) {
        cells_[i][j] = likely(sizes_, creep_[i], scatters[j]);
        cells_[i][j].log += prior + scatterPrior_[j];
        most = std::max(most, cells_[i][j].log);
      }
    }
    fill(fit, most);
    if (sizes_.one.size() > 1) fit.standsStill = stillness(most);
  }

  /// Moments of the logarithm of creep.
  double meanLog() const { return meanLog_; }
  double varianceLog() const { return varianceLog_; }

 private:
  void fill(CreepFit& fit, double most) {
    all_ = 0.0;
    double mean = 0.0;
    double square = 0.0;
    double logs = 0.0;
    double logSquares = 0.0;
    fit.levels.reserve(creepSteps);
    for (std::size_t i = 0; i < creepSteps; ++i) {
      double weight = 0.0;
      double inset = 0.0;
      double insetSquare = 0.0;
      for (const Likely& cell : cells_[i]) {
        const double mass = std::exp(cell.log - most);
        weight += mass;
        inset += mass * cell.inset_mm;
        insetSquare += mass * (cell.variance_mm2 + cell.inset_mm * cell.inset_mm);
      }
      if (!(weight > 0.0)) continue;
      inset /= weight;
      const double log = std::log(creep_[i]);
      all_ += weight;
      mean += weight * creep_[i];
      square += weight * creep_[i] * creep_[i];
      logs += weight * log;
      logSquares += weight * log * log;
      fit.levels.push_back({creep_[i], weight, inset,
                            std::sqrt(std::max(0.0, insetSquare / weight - inset * inset))});
    }
    for (CreepLevel& level : fit.levels) level.weight /= all_;
    mean /= all_;
    fit.creep_mm_d = measure::Measured{mean, std::sqrt(std::max(0.0, square / all_ - mean * mean))};
    meanLog_ = logs / all_;
    varianceLog_ = std::max(1e-12, logSquares / all_ - meanLog_ * meanLog_);
  }

  // Of standing still against creeping, by the marginal likelihoods.
  double stillness(double most) const {
    double still = 0.0;
    for (std::size_t j = 0; j < scatters.size(); ++j) {
      still += std::exp(likely(sizes_, 0.0, scatters[j]).log + scatterPrior_[j] - most);
    }
    const double creeps = all_ / priorSum_;
    return standsStillBefore * still /
           (standsStillBefore * still + (1.0 - standsStillBefore) * creeps);
  }

  Apart sizes_;
  LogPrior prior_;
  std::array<double, scatters.size()> scatterPrior_{};
  std::array<double, creepSteps> creep_{};
  std::array<std::array<Likely, scatters.size()>, creepSteps> cells_;
  double priorSum_ = 0.0;
  double all_ = 0.0;
  double meanLog_ = 0.0;
  double varianceLog_ = 0.0;
};

void fitFreely(CreepFit& fit, const std::vector<EdgePoint>& points, double creep_mm_d,
               const CreepPool& pool) {
  std::vector<WeightedPoint> line;
  line.reserve(points.size());
  const Eigen::MatrixXd stray = strayed(points);
  for (std::size_t i = 0; i < points.size(); ++i) {
    const auto k = static_cast<Eigen::Index>(i);
    const double u_mm = std::hypot(points[i].u_mm, creep_mm_d * std::sqrt(stray(k, k)));
    line.push_back({points[i].growing_d, points[i].inset_mm, u_mm});
  }
  const auto fitted = fitLine(line);
  if (!fitted) {
    double weights = 0.0;
    double sum_mm = 0.0;
    for (const WeightedPoint& point : line) {
      weights += 1.0 / (point.u * point.u);
      sum_mm += point.y / (point.u * point.u);
    }
    fit.inset_mm = sum_mm / weights;
    fit.inset_u_mm = 1.0 / std::sqrt(weights);
    return;
  }
  const double freedom = pool.belief + fitted->freedom;
  fit.scatter = std::sqrt((pool.belief * pool.scatter2 + fitted->chiSquared) / freedom);
  const double u = fit.scatter * fitted->slope_u;
  fit.free_mm_d = measure::Measured{fitted->slope, u};
  fit.freeLow_mm_d = fitted->slope - studentQuantile(0.9, freedom) * u;
  fit.freeHigh_mm_d = fitted->slope + studentQuantile(0.9, freedom) * u;
  fit.freeSurely_mm_d = fitted->slope + studentQuantile(0.975, freedom) * u;
  fit.inset_mm = fitted->intercept();
  fit.inset_u_mm = fit.scatter * fitted->intercept_u();
  fit.told.chiSquared = fitted->chiSquared;
  fit.told.freedom = fitted->freedom;
}

// The posterior as one normal observation, the prior taken out again.
void tell(CreepFit& fit, const LogCreep& prior, double mean, double variance) {
  const double before = 1.0 / prior.variance();
  const double precision = 1.0 / variance - before;
  if (!(precision > 0.0)) return;
  fit.told.log = (mean / variance - prior.mean() * before) / precision;
  fit.told.precision = precision * (1.0 - fit.standsStill);
  const double before_d = std::max(1e-3, fit.span_d);
  fit.told.drift2 = strayed_mm2(before_d, before_d) / (before_d * before_d);
}

}  // namespace

CreepFit fitCreep(const GapShape& shape, std::span<const SizeSeen> sizes,
                  const std::optional<CreepPrior>& prior, const CreepPool& pool,
                  const GrowingTime* time) {
  assert(!sizes.empty());
  CreepFit fit;
  fit.lastDay = sizes.back().day;
  fit.span_d = sizes.back().day - sizes.front().day;
  const bool hasPrior = prior && usable(prior->creep_mm_d);
  const CreepBefore before(hasPrior ? logCreepOf(prior->creep_mm_d) : LogCreep{0.0, 1.0, 1.0},
                           pool);
  const std::vector<EdgePoint> points = merged(edgePoints(shape, sizes, time));
  fitFreely(fit, points, hasPrior ? std::exp(before.now().middle) : usualCreep_mm_d, pool);
  if (!(fit.span_d >= shortestSpan_d)) fit.free_mm_d.reset();

  if (hasPrior) {
    Learner learner(apart(points), pool,
                    [&before](double log) { return before.now().logDensity(log); });
    const auto [from, to] = gridEnds(before.now(), fit.free_mm_d);
    learner.learn(fit, from, to);
    for (CreepLevel& level : fit.levels) level.passing = before.passing(std::log(level.creep_mm_d));
    fit.passing_u = before.passing_u();
    if (points.size() > 1) tell(fit, before.now(), learner.meanLog(), learner.varianceLog());
  } else if (fit.free_mm_d && fit.freeLow_mm_d > 0.0) {
    // Even in creep itself: its density in the logarithm grows with it.
    Learner learner(apart(points), pool, [](double log) { return log; });
    const double reach = 6.0 * *fit.free_mm_d->u;
    learner.learn(fit, std::max(0.02 * fit.free_mm_d->value, fit.free_mm_d->value - reach),
                  fit.free_mm_d->value + reach);
    fit.creep_mm_d = fit.free_mm_d;
    fit.passing_u = std::sqrt(held2);
  }
  return fit;
}

std::optional<std::size_t> wildSize(const GapShape& shape, std::span<const SizeSeen> sizes,
                                    const std::optional<CreepPrior>& prior,
                                    const GrowingTime* time) {
  constexpr std::size_t fewest = 4;
  constexpr double wild = 4.0;
  constexpr double fits = 3.0;
  if (sizes.size() < fewest || sizes.size() > mostSizes) return std::nullopt;
  const std::vector<EdgePoint> points = edgePoints(shape, sizes, time);
  const bool hasPrior = prior && usable(prior->creep_mm_d);
  const double creep_mm_d = hasPrior ? prior->creep_mm_d.best : usualCreep_mm_d;
  const auto left = [&](std::optional<std::size_t> without) {
    // How far each size is from what the others say of its day, in standard uncertainties:
    // (P y)_i / sqrt(P_ii), P the precision with the line projected out.
    std::vector<EdgePoint> kept;
    for (std::size_t i = 0; i < points.size(); ++i) {
      if (i != without) kept.push_back(points[i]);
    }
    const auto count = static_cast<Eigen::Index>(kept.size());
    Eigen::MatrixXd covariance = creep_mm_d * creep_mm_d * strayed(kept);
    Eigen::MatrixXd line(count, 2);
    Eigen::VectorXd inset(count);
    for (Eigen::Index i = 0; i < count; ++i) {
      const EdgePoint& point = kept[static_cast<std::size_t>(i)];
      covariance(i, i) += point.u_mm * point.u_mm;
      line(i, 0) = 1.0;
      // In months, so that both columns are of one size.
      line(i, 1) = point.growing_d / 30.0;
      inset[i] = point.inset_mm;
    }
    const Eigen::MatrixXd precision =
        covariance.ldlt().solve(Eigen::MatrixXd::Identity(count, count));
    const Eigen::MatrixXd weighed = precision * line;
    const Eigen::Matrix2d normal = line.transpose() * weighed;
    const Eigen::MatrixXd off =
        precision -
        weighed * normal.completeOrthogonalDecomposition().pseudoInverse() * weighed.transpose();
    const Eigen::VectorXd pulled = off * inset;
    std::vector<double> z;
    for (Eigen::Index i = 0; i < count; ++i) {
      z.push_back(off(i, i) > 1e-9 * precision(i, i) ? std::abs(pulled[i]) / std::sqrt(off(i, i))
                                                     : 0.0);
    }
    return z;
  };
  const std::vector<double> all = left(std::nullopt);
  const auto worst =
      static_cast<std::size_t>(std::max_element(all.begin(), all.end()) - all.begin());
  if (!(all[worst] > wild) || worst + 1 == sizes.size()) return std::nullopt;
  const std::vector<double> others = left(worst);
  if (*std::max_element(others.begin(), others.end()) > fits) return std::nullopt;
  return worst;
}

}  // namespace swardwalk::infill
