#include "common/infill/sigmoid_fit.h"

#include <Eigen/Dense>
#include <cmath>
#include <limits>
#include <unsupported/Eigen/NonLinearOptimization>

namespace swardwalk::infill {
namespace {

/// Residuals over u and their derivatives, as Eigen's solver asks for them.
class Residuals {
 public:
  using Scalar = double;
  using InputType = Eigen::VectorXd;
  using ValueType = Eigen::VectorXd;
  using JacobianType = Eigen::MatrixXd;

  Residuals(std::span<const WeightedPoint> points, const Sigmoid& start, SigmoidFree free)
      : points_(points), start_(start), free_(free) {}

  int inputs() const { return 2 + (free_.top ? 1 : 0) + (free_.power ? 1 : 0); }
  int values() const { return static_cast<int>(points_.size()); }

  Eigen::VectorXd parameters(const Sigmoid& curve) const {
    Eigen::VectorXd all(inputs());
    int next = 0;
    all[next++] = curve.offset;
    all[next++] = curve.rate;
    if (free_.top) all[next++] = curve.top;
    if (free_.power) all[next++] = curve.power;
    return all;
  }

  Sigmoid curve(const Eigen::VectorXd& all, const Sigmoid& held) const {
    Sigmoid curve = held;
    int next = 0;
    curve.offset = all[next++];
    curve.rate = all[next++];
    if (free_.top) curve.top = all[next++];
    if (free_.power) curve.power = all[next++];
    return curve;
  }

  int operator()(const Eigen::VectorXd& all, Eigen::VectorXd& residuals) const {
    const Sigmoid now = curve(all, start_);
    for (int i = 0; i < values(); ++i) {
      const WeightedPoint& point = points_[static_cast<std::size_t>(i)];
      residuals[i] = (now.at(point.x) - point.y) / point.u;
    }
    return 0;
  }

  int df(const Eigen::VectorXd& all, Eigen::MatrixXd& slopes) const {
    const Sigmoid now = curve(all, start_);
    for (int i = 0; i < values(); ++i) {
      const WeightedPoint& point = points_[static_cast<std::size_t>(i)];
      const double rest = std::exp(now.offset - now.rate * point.x);
      const double y = now.at(point.x);
      const double byOffset = -y / now.power * rest / (1.0 + rest);
      int next = 0;
      slopes(i, next++) = byOffset / point.u;
      slopes(i, next++) = -point.x * byOffset / point.u;
      if (free_.top) slopes(i, next++) = y / now.top / point.u;
      if (free_.power) {
        slopes(i, next++) = y * std::log1p(rest) / (now.power * now.power) / point.u;
      }
    }
    return 0;
  }

 private:
  std::span<const WeightedPoint> points_;
  Sigmoid start_;
  SigmoidFree free_;
};

}  // namespace

double Sigmoid::at(double x) const {
  return top / std::pow(1.0 + std::exp(offset - rate * x), 1.0 / power);
}

std::optional<SigmoidFit> fitSigmoid(std::span<const WeightedPoint> points, const Sigmoid& start,
                                     SigmoidFree free) {
  Residuals residuals(points, start, free);
  if (residuals.values() < residuals.inputs()) return std::nullopt;
  Eigen::VectorXd all = residuals.parameters(start);
  Eigen::LevenbergMarquardt<Residuals> solver(residuals);
  solver.parameters.xtol = 1e-14;
  solver.parameters.ftol = 1e-15;
  solver.parameters.maxfev = 2000;
  solver.minimize(all);
  SigmoidFit fit;
  fit.curve = residuals.curve(all, start);
  fit.chiSquared = solver.fvec.squaredNorm();
  fit.freedom = residuals.values() - residuals.inputs();
  Eigen::MatrixXd slopes(residuals.values(), residuals.inputs());
  residuals.df(all, slopes);
  if (!slopes.allFinite() || slopes.colPivHouseholderQr().rank() < slopes.cols()) {
    return std::nullopt;
  }
  const Eigen::MatrixXd normal = slopes.transpose() * slopes;
  const Eigen::MatrixXd covariance =
      normal.ldlt().solve(Eigen::MatrixXd::Identity(normal.rows(), normal.cols()));
  if (!all.allFinite() || !covariance.allFinite() || !(covariance.diagonal().minCoeff() >= 0.0)) {
    return std::nullopt;
  }
  fit.u = residuals.curve(covariance.diagonal().cwiseSqrt(), Sigmoid{0.0, 0.0, 0.0, 0.0});
  return fit;
}

}  // namespace swardwalk::infill
