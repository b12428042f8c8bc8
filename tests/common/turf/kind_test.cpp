#include "common/turf/kind.h"

#include <gtest/gtest.h>

namespace swardwalk::turf {
namespace {

TEST(Kind, EveryWordNamesItsKind) {
  for (const Kind kind : {Kind::bare, Kind::hungry, Kind::dug, Kind::washed}) {
    EXPECT_FALSE(word(kind).empty());
    EXPECT_EQ(kindNamed(word(kind)), kind);
  }
  EXPECT_EQ(word(Kind::washed), "washed");
}

TEST(Kind, OtherWordsNameNothing) {
  EXPECT_FALSE(kindNamed(""));
  EXPECT_FALSE(kindNamed("Bare"));
  EXPECT_FALSE(kindNamed("eroded"));
}

}  // namespace
}  // namespace swardwalk::turf
