#include "common/repair/blend.h"

#include <cstddef>

namespace swardwalk::repair {

std::optional<BlendCounts> countsOf(const std::vector<BlendedGrass>& parts, bool sharesByNumber) {
  BlendCounts counts;
  double whole = 0.0;
  for (const BlendedGrass& part : parts) {
    if (part.species == nullptr) return std::nullopt;
    const double seedsPerGram = sharesByNumber ? part.species->seedsPerGram.best : 1.0;
    counts.byWeight.push_back(part.share / seedsPerGram);
    whole += counts.byWeight.back();
  }
  if (!(whole > 0.0)) return std::nullopt;
  double seeds = 0.0;
  turf::Range room_cm2;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const turf::Species& species = *parts[i].species;
    double& weight = counts.byWeight[i];
    weight /= whole;
    counts.seedsPerGram.best += weight * species.seedsPerGram.best;
    counts.seedsPerGram.low += weight * species.seedsPerGram.low;
    counts.seedsPerGram.high += weight * species.seedsPerGram.high;
    const double ofPart = weight * species.seedsPerGram.best;
    seeds += ofPart;
    room_cm2.best += ofPart / species.livePerSquareCentimetre.best;
    room_cm2.low += ofPart / species.livePerSquareCentimetre.low;
    room_cm2.high += ofPart / species.livePerSquareCentimetre.high;
  }
  counts.livePerSquareCentimetre = {seeds / room_cm2.best, seeds / room_cm2.low,
                                    seeds / room_cm2.high};
  return counts;
}

}  // namespace swardwalk::repair
