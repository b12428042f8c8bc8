#pragma once

#include <cstdint>
#include <vector>

/// Greens whose patches close as they do: an invented truth that shares no code and no
/// formula with the model that is tested on it. Creep differs by green and by patch, and
/// drifts by the week; crews measure with error.
namespace swardwalk::infill::test {

/// Random numbers that are the same everywhere.
class Chance {
 public:
  explicit Chance(std::uint64_t seed) : state_(seed * 2862933555777941757ULL + 3037000493ULL) {}
  double between(double low, double high);
  double normal();

 private:
  double share();
  std::uint64_t state_;
};

struct MeasuredSize {
  double day = 0.0;
  double area_m2 = 0.0;
  double area_u_m2 = 0.0;
  double length_m = 0.0;  ///< as measured
  double width_m = 0.0;
};

/// A disc or a strip that grass closes from its edge.
struct SimulatedPatch {
  bool strip = false;
  double length_m = 0.0;  ///< diameter of a disc
  double width_m = 0.0;
  std::vector<MeasuredSize> looks;  ///< the last on the green's common last day
  double closesDay = 0.0;           ///< the truth
};

struct SimulatedGreen {
  std::vector<SimulatedPatch> patches;
};

struct Truth {
  std::vector<int> looks = {1, 3, 5, 8, 8, 5, 3, 1, 1, 3, 5, 8};  ///< one number a patch
  double edge_u_m = 0.010;                                        ///< how well each edge is placed
  double saidOverTrue_u = 1.0;  ///< what the crew says of that, over it
  double usualCreep_mm_d = 1.0;
  double greenSpread = 0.60;  ///< half the width of an even distribution of its logarithm
  double patchSpread = 0.36;  ///< standard deviation of the logarithm
  double weekSpread = 0.14;   ///< of what one week adds to the green's own weather
  double weekMemory = 0.9;    ///< of last week's weather that is left
  double season = 0.25;       ///< half the swing of a slow wave of the logarithm
};

/// Looks come weekly, give or take a day, the last ones all on one day. A patch that would have
/// closed before its last look, or nearly, is another one.
SimulatedGreen simulate(const Truth& truth, std::uint64_t seed);

}  // namespace swardwalk::infill::test
