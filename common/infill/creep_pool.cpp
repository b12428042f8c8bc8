#include "common/infill/creep_pool.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>
#include <utility>

#include "common/infill/drift.h"
#include "common/infill/spread.h"

namespace swardwalk::infill {
namespace {

constexpr double narrowest = 1e-3;
constexpr double mostScatterBelief = 40.0;

double greens2(const LogCreep& prior) { return sharedOnGreen * prior.variance() + held2; }
double own2(const LogCreep& prior) { return (1.0 - sharedOnGreen) * prior.variance(); }

bool tells(const CreepTold& told) { return told.precision > 1e-6; }

}  // namespace

double LogCreep::mean() const {
  // A half normal has its mean at sqrt(2/pi) of its standard deviation.
  return middle + 0.5 * (above - below) * std::sqrt(2.0 / std::numbers::pi);
}

double LogCreep::variance() const {
  const double off = mean() - middle;
  return 0.5 * (below * below + above * above) - off * off;
}

double LogCreep::logDensity(double log) const {
  const double spread = log > middle ? above : below;
  const double off = (log - middle) / spread;
  return -0.5 * off * off - std::log(spread);
}

double LogCreep::quantile(double share) const {
  const double z = normalQuantile(share);
  return middle + z * (z > 0.0 ? above : below);
}

LogCreep logCreepOf(const turf::Range& range) {
  assert(usable(range));
  const double low = range.low > 0.0 ? range.low : range.best / 20.0;
  return {std::log(range.best), std::max(narrowest, std::log(range.best / low) / z80),
          std::max(narrowest, std::log(range.high / range.best) / z80)};
}

GreenPool::GreenPool(const LogCreep& prior, std::vector<CreepTold> told)
    : prior_(prior), told_(std::move(told)) {
  for (const CreepTold& one : told_) {
    weights_ += weightOf(one);
    sum_ += weightOf(one) * (one.log - prior_.mean());
    drift2_ += weightOf(one) * one.drift2;
    chiSquared_ += one.chiSquared;
    freedom_ += one.freedom;
  }
}

double GreenPool::weightOf(const CreepTold& told) const {
  if (!tells(told)) return 0.0;
  return 1.0 / (1.0 / told.precision + own2(prior_));
}

CreepPool GreenPool::without(std::size_t index) const {
  const CreepTold& own = told_[index];
  const double weight = std::max(0.0, weights_ - weightOf(own));
  const double sum = sum_ - weightOf(own) * (own.log - prior_.mean());
  CreepPool pool;
  if (weight > 1e-9 * weights_) {
    // Their mean is as sure as they are many, but for what they all wandered together.
    const double drift2 = std::max(0.0, drift2_ - weightOf(own) * own.drift2) / weight;
    const double mean2 = 1.0 / weight + drift2;
    pool.learned2 = 1.0 / (1.0 / greens2(prior_) + 1.0 / mean2);
    pool.shift = pool.learned2 / mean2 * sum / weight;
    for (std::size_t i = 0; i < told_.size(); ++i) {
      const bool counts = own2(prior_) * weightOf(told_[i]) >= worthCounting;
      pool.patches += counts && i != index ? 1 : 0;
    }
  }
  const double freedom = freedom_ - own.freedom;
  const double share = std::min(1.0, mostScatterBelief / std::max(1.0, freedom));
  pool.belief = beliefInStatedU + share * freedom;
  pool.scatter2 =
      (beliefInStatedU + share * std::max(0.0, chiSquared_ - own.chiSquared)) / pool.belief;
  return pool;
}

CreepBefore::CreepBefore(const LogCreep& prior, const CreepPool& pool) {
  const double green2 = pool.learned2 > 0.0 ? pool.learned2 : greens2(prior);
  const double wider = std::sqrt((green2 + own2(prior)) / prior.variance());
  now_ = {prior.middle + pool.shift, wider * prior.below, wider * prior.above};
  middle_ = pool.shift;
  green_ = green2 / (green2 + own2(prior));
  passingShare_ = held2 / greens2(prior);
  const double greenLeft2 = green2 * (1.0 - green_);
  passing_u_ =
      std::sqrt(held2 * (1.0 - passingShare_) + passingShare_ * passingShare_ * greenLeft2);
}

}  // namespace swardwalk::infill
