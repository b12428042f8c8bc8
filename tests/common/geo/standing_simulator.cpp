#include "standing_simulator.h"

#include <chrono>
#include <cmath>

namespace swardwalk::geo {

namespace {
// Metres of a degree at 52 N on WGS84: 111,267 along the meridian, 68,677 along the
// parallel (rounded to a metre: 1e-5 of the few metres that are told apart here).
constexpr double north_m = 111'267.0;
constexpr double east_m = 68'677.0;
}  // namespace

SimulatedReceiver::SimulatedReceiver(double u_m, double errorTime_s, std::uint64_t seed)
    : u_m_(u_m), kept_(std::exp(-1.0 / errorTime_s)), random_(seed) {
  errorEast_m_ = u_m_ * normal_(random_);
  errorNorth_m_ = u_m_ * normal_(random_);
}

void SimulatedReceiver::drift() {
  const double fresh = u_m_ * std::sqrt(1.0 - kept_ * kept_);
  errorEast_m_ = kept_ * errorEast_m_ + fresh * normal_(random_);
  errorNorth_m_ = kept_ * errorNorth_m_ + fresh * normal_(random_);
  ++now_s_;
}

std::vector<Fix> SimulatedReceiver::stand(double east, double north, int lasts_s) {
  std::vector<Fix> fixes;
  for (int second = 0; second < lasts_s; ++second) {
    drift();
    Fix fix;
    fix.time = measure::Instant{std::chrono::seconds{now_s_}};
    fix.position = globe(east + errorEast_m_, north + errorNorth_m_);
    fix.accuracy_m = u_m_;
    fixes.push_back(fix);
  }
  return fixes;
}

void SimulatedReceiver::wait(int lasts_s) {
  for (int second = 0; second < lasts_s; ++second) drift();
}

Position SimulatedReceiver::globe(double east, double north) {
  return {52.0 + north / north_m, 5.0 + east / east_m};
}

LocalPoint SimulatedReceiver::local(Position position) {
  return {(position.longitude_deg - 5.0) * east_m, (position.latitude_deg - 52.0) * north_m};
}

double drawErrorTime_s(Draw draw, std::mt19937_64& random) {
  std::uniform_real_distribution<double> unit;
  if (draw == Draw::uniform) return 30.0 + 870.0 * unit(random);
  return 30.0 * std::pow(30.0, unit(random));
}

}  // namespace swardwalk::geo
