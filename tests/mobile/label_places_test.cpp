#include "mobile/plan/label_places.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace swardwalk::mobile {
namespace {

constexpr QRectF screen(0, 0, 800, 600);
constexpr double gap_px = 8.0;

std::vector<QRectF> placed(const std::vector<QPointF>& centres) {
  std::vector<Labelled> labelled;
  for (const QPointF centre : centres) labelled.push_back({centre, 20, {30, 14}});
  return labelPlaces(labelled, screen, gap_px);
}

TEST(LabelPlaces, ALabelStandsRightOfItsSymbol) {
  EXPECT_EQ(placed({{400, 300}}).front(), QRectF(428, 293, 30, 14));
}

TEST(LabelPlaces, LeftWhereAnotherSymbolIsAtTheRight) {
  EXPECT_EQ(placed({{400, 300}, {450, 300}}).front(), QRectF(342, 293, 30, 14));
}

TEST(LabelPlaces, LeftAtTheRightEdgeOfTheScreen) {
  EXPECT_EQ(placed({{770, 300}}).front(), QRectF(712, 293, 30, 14));
}

TEST(LabelPlaces, BelowThenAboveBetweenNeighbours) {
  const auto below = placed({{400, 300}, {450, 300}, {350, 300}});
  EXPECT_EQ(below.front(), QRectF(385, 322, 30, 14));
  const auto above = placed({{400, 300}, {450, 300}, {350, 300}, {400, 350}});
  EXPECT_EQ(above.front(), QRectF(385, 264, 30, 14));
}

TEST(LabelPlaces, RightWhereNothingIsFree) {
  const auto boxes = placed({{400, 300}, {450, 300}, {350, 300}, {400, 350}, {400, 250}});
  EXPECT_EQ(boxes.front(), QRectF(428, 293, 30, 14));
}

TEST(LabelPlaces, NoTwoLabelsTouchOnALineOfSymbols) {
  std::vector<QPointF> centres;
  for (int i = 0; i < 8; ++i) centres.emplace_back(100 + 70 * i, 300);
  const auto boxes = placed(centres);
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    for (std::size_t j = i + 1; j < boxes.size(); ++j) {
      EXPECT_FALSE(boxes[i].intersects(boxes[j])) << i << " and " << j;
    }
  }
}

}  // namespace
}  // namespace swardwalk::mobile
