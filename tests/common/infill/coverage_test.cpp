#include "coverage.h"

#include <gtest/gtest.h>

#include <iostream>

namespace swardwalk::infill::test {
namespace {

constexpr std::uint64_t seed = 2000;

/// Three patches of each number of sightings on a green, so 2,001 of each.
constexpr int greens = 667;

// 80 % intervals cover the truth in 75 to 85 % of 2,001 patches, whatever the number of
// sightings, with pooling and without. Patches of a green share its weather; by the
// scatter between seeds the sampling error of a share is about 1.3 %.
TEST(Coverage, OfEightyPercentIntervalsIsEightyPercent) {
  std::cout << tableHead();
  for (const auto& [looks, scores] : scoresOf(Truth{}, greens, seed)) {
    SCOPED_TRACE(testing::Message() << looks << " sightings");
    std::cout << tableLine("model", looks, scores.model)
              << tableLine("model, pooled", looks, scores.pooled)
              << tableLine("prior alone", looks, scores.priorAlone);
    if (scores.line) std::cout << tableLine("line through areas", looks, *scores.line);
    // All but a few that chance makes grow.
    EXPECT_GE(scores.model.patches, 1950);
    EXPECT_GE(scores.model.coverage(), 0.75);
    EXPECT_LE(scores.model.coverage(), 0.85);
    EXPECT_GE(scores.pooled.coverage(), 0.75);
    EXPECT_LE(scores.pooled.coverage(), 0.85);
    // The interval score sees both width and misses.
    // With eight sightings of its own a patch hardly needs the others.
    EXPECT_LT(scores.pooled.intervalScore_d,
              (looks < 8 ? 1.0 : 1.02) * scores.model.intervalScore_d);
    EXPECT_LT(scores.pooled.intervalScore_d, scores.priorAlone.intervalScore_d);
    EXPECT_LT(scores.pooled.medianError_d, scores.priorAlone.medianError_d);
    EXPECT_LT(scores.model.intervalScore_d, scores.priorAlone.intervalScore_d);
    if (scores.line) {
      EXPECT_LT(scores.model.intervalScore_d, scores.line->intervalScore_d);
      EXPECT_LT(scores.model.medianError_d, scores.line->medianError_d);
      EXPECT_LT(scores.model.medianError_d, scores.priorAlone.medianError_d);
    }
  }
}

// Where the truth is not what the model takes it for, the intervals bend but do not break.
TEST(Coverage, HoldsAcrossOtherTruths) {
  struct Other {
    const char* name;
    Truth truth;
  };
  Truth steady;
  steady.weekSpread = steady.season = 0.0;
  Truth restless;
  restless.weekSpread = 0.28;
  restless.weekMemory = 0.7;
  Truth rough;
  rough.edge_u_m = 0.020;
  Truth modest;  // the same eye errs the same way each time: sizes repeat better than said
  modest.edge_u_m = 0.006;
  modest.saidOverTrue_u = 20.0 / 6.0;
  Truth alike;
  alike.greenSpread = 0.3;
  alike.patchSpread = 0.2;
  Truth slow;
  slow.usualCreep_mm_d = 0.7;
  std::cout << tableHead();
  for (const Other& other : {Other{"no drift", steady}, Other{"restless weeks", restless},
                             Other{"edges to 20 mm", rough}, Other{"edges repeat to 6 mm", modest},
                             Other{"patches alike", alike}, Other{"all a third slower", slow}}) {
    for (const auto& [looks, scores] : scoresOf(other.truth, 100, seed)) {
      SCOPED_TRACE(testing::Message() << other.name << ", " << looks << " sightings");
      std::cout << tableLine(other.name, looks, scores.pooled);
      EXPECT_GE(scores.pooled.coverage(), 0.65);
      EXPECT_LE(scores.pooled.coverage(), 0.97);
    }
  }
}

}  // namespace
}  // namespace swardwalk::infill::test
