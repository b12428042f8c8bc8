#pragma once

#include <optional>
#include <string>
#include <vector>

#include "common/geo/position.h"
#include "common/turf/kind.h"
#include "sample-course/noise.h"

/// What really happens on Quillbeck in six weeks: the truth, before anybody looks.
/// It shares no code with what estimates it.
namespace swardwalk::sample {

inline constexpr int seasonDays = 42;
/// Evenings of the two storms, and the mornings after which the crew finds the damage.
inline constexpr int firstStormDay = 12;
inline constexpr int secondStormDay = 40;

struct Weather {
  double min_c = 0.0;
  double max_c = 0.0;
  double rain_mm = 0.0;
  std::optional<double> peak_mm_h;
};

/// What a patch is there for in the story; decides what happens to it.
enum class Story {
  leftAlone,       ///< closes from its edge, or does not make it
  closes,          ///< small enough to close within the season
  washedTwice,     ///< washed, filled and sown, washed again by both storms
  dugTwice,        ///< dug, raked back, dug again
  sownUp,          ///< sown, came up
  sownFailed,      ///< sown, never came up
  sownWaiting,     ///< sown a few days ago
  sownDue,         ///< sown long enough ago to be due
  sownWashedOut,   ///< sown, and the second storm took the seed
  stalls,          ///< the edge stands still
  grows,           ///< gets larger
  stormDamage,     ///< new after the second storm
  hungry,          ///< off colour, fed once
  seenOnce,        ///< marked in passing, never measured
  markedTwice,     ///< two tablets mark it on one morning; later joined
  markedTwiceOpen  ///< the same, and nobody has said so yet
};

struct TruePatch {
  std::string id;
  std::size_t green = 0;
  turf::Kind kind = turf::Kind::bare;
  Story story = Story::leftAlone;
  geo::LocalPoint middle;
  double length_m = 0.0;
  double width_m = 0.0;
  bool round = true;      ///< an oval; else a strip
  double depth_mm = 0.0;  ///< 0: no hole
  int bornDay = 0;
  double creep_mm_d = 0.0;
};

/// A patch as it truly is on one day.
struct TrueSize {
  double length_m = 0.0;
  double width_m = 0.0;
  double area_m2 = 0.0;
  double depth_mm = 0.0;
  bool open = false;
};

/// Days on which something is done to a patch or happens to it; -1: never.
struct Milestones {
  int filledSown = -1;
  int up = -1;
  int sownAgain = -1;
  int washedAgain = -1;
  int washedThird = -1;
  int dugAgain = -1;
  int rakedBack = -1;
  int fed = -1;
  int joined = -1;
  int chosen = -1;  ///< a person decides what is done
};

class Season {
 public:
  explicit Season(std::uint64_t seed);

  const std::vector<TruePatch>& patches() const { return patches_; }
  const std::vector<Weather>& weather() const { return weather_; }

  static Milestones milestones(Story story);
  /// Before anybody measures: by the true edge creep, day by day.
  TrueSize sizeOn(const TruePatch& patch, int day) const;

 private:
  void addPatches(Noise& noise);
  std::vector<TruePatch> patches_;
  std::vector<Weather> weather_;
  std::vector<double> drift_;  ///< of all creep, a factor a day
};

}  // namespace swardwalk::sample
