#include "common/measure/sampled_share.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace swardwalk::measure {

Measured sampledShare(std::span<const ThrownFrame> frames) {
  assert(!frames.empty());
  double bare = 0.0;
  double squares = 0.0;
  for (const ThrownFrame& frame : frames) {
    assert(frame.squares > 0 && frame.squaresBare >= 0 && frame.squaresBare <= frame.squares);
    bare += frame.squaresBare;
    squares += frame.squares;
  }
  const double share = bare / squares;
  if (frames.size() < 2) return {share, std::nullopt};
  const auto count = static_cast<double>(frames.size());
  double misses = 0.0;
  for (const ThrownFrame& frame : frames)
    misses += std::pow(frame.squaresBare - share * frame.squares, 2);
  const double ofFrames = std::sqrt(misses / (count - 1.0) / count) / (squares / count);
  const double centred = (bare + 2.0) / (squares + 4.0);
  const double ofSquares = std::sqrt(centred * (1.0 - centred) / (squares + 4.0));
  return {share, std::max(ofFrames, ofSquares)};
}

}  // namespace swardwalk::measure
