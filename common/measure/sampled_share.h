#pragma once

#include <span>

#include "common/measure/measured.h"

namespace swardwalk::measure {

/// A counting frame thrown at random: so many of its squares are bare.
struct ThrownFrame {
  int squaresBare = 0;  ///< 0 to `squares`
  int squares = 0;      ///< above 0
};

/// The share of a thin stand that is bare, 0..1, from frames thrown at random over it:
/// R = sum(bare) / sum(squares), with the sampling error of a ratio of clusters,
///   u = sqrt(sum((a_i - R m_i)^2) / (n - 1) / n) / mean(m)
/// (Cochran, Sampling Techniques, 1977, 2.11; from memory), because squares of one frame
/// are alike and do not count one by one. Never less than if each square had been thrown
/// by itself, with a pseudo-count of two bare and two green (Agresti & Coull 1998, from
/// memory), so that no bare square in twenty is not taken for none at all. One frame says
/// nothing of the scatter: its uncertainty is unknown (Q1). `frames` must hold one at least.
Measured sampledShare(std::span<const ThrownFrame> frames);

}  // namespace swardwalk::measure
