#include "mobile/app/clock.h"

namespace swardwalk::mobile {

measure::Instant Clock::now() const {
  if (stands_) return *stands_;
  return std::chrono::time_point_cast<std::chrono::milliseconds>(std::chrono::system_clock::now());
}

void Clock::moveTo(measure::Instant later) {
  if (stands_ && later > *stands_) stands_ = later;
}

}  // namespace swardwalk::mobile
