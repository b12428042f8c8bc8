#include <gtest/gtest.h>

#include <QImage>
#include <QPainter>

#include "mobile/plan/course_plan.h"
#include "mobile/plan/plan_painter.h"
#include "mobile/plan/plan_view.h"
#include "mobile/plan/symbols.h"
#include "tests/mobile/trial_course.h"

namespace swardwalk::mobile {
namespace {

TEST(PlanView, GroundUnderAFingerStaysUnderItWhenZooming) {
  PlanView view;
  view.size = {800, 600};
  view.centre = {3, -2};
  const QPointF finger(200, 450);
  const geo::LocalPoint before = view.toGround(finger);
  const geo::LocalPoint after = view.zoomed(2.5, finger).toGround(finger);
  EXPECT_NEAR(before.east_m, after.east_m, 1e-9);
  EXPECT_NEAR(before.north_m, after.north_m, 1e-9);
}

TEST(PlanView, FittingShowsAllOfIt) {
  const PlanView view = PlanView::fitting({-14, -10}, {14, 10}, {940, 740}, 36);
  EXPECT_GE(view.toScreen({-14, 10}).x(), 35.9);
  EXPECT_GE(view.toScreen({-14, 10}).y(), 35.9);
  EXPECT_LE(view.toScreen({14, -10}).x(), 904.1);
}

TEST(PlanView, ScaleStaysWithinItsLimits) {
  PlanView view;
  view.size = {800, 600};
  EXPECT_DOUBLE_EQ(view.zoomed(1e9, {0, 0}).scale_px_m, planScaleMost_px_m);
  EXPECT_DOUBLE_EQ(view.zoomed(1e-9, {0, 0}).scale_px_m, planScaleLeast_px_m);
}

TEST(PlanView, NiceLengthsAreOneTwoFive) {
  EXPECT_DOUBLE_EQ(niceLength_m(25, 150), 5);
  EXPECT_DOUBLE_EQ(niceLength_m(100, 150), 1);
  EXPECT_DOUBLE_EQ(niceLength_m(60, 150), 2);
}

TEST(Plan, ATouchOnASymbolFindsItsPatch) {
  Trial trial(Trial::Begin::withCourse);
  const auto plan = planOf(trial.app().store(), "Hollow");
  ASSERT_TRUE(plan);
  const PlanView view = PlanView::fitting(plan->scene.low, plan->scene.high, {940, 740}, 36);
  for (const PlanPatch& patch : plan->scene.patches) {
    if (!patch.id.starts_with("p")) continue;
    EXPECT_EQ(patchAt(plan->scene, view, view.toScreen(patch.place) + QPointF(6, -5)), patch.id);
  }
  EXPECT_FALSE(patchAt(plan->scene, view, {5, 5}));
}

TEST(Plan, NumbersStandWithoutTheGreensLetters) {
  EXPECT_EQ(numberOf("H12b"), "12b");
  EXPECT_EQ(numberOf("N7"), "7");
  EXPECT_EQ(numberOf("gap"), "gap");
}

QImage symbol(Show::Kind kind, Show::Look look, const Palette& palette) {
  QImage image(90, 90, QImage::Format_ARGB32_Premultiplied);
  image.fill(palette.turf);
  QPainter painter(&image);
  painter.setRenderHint(QPainter::Antialiasing);
  SymbolLook symbol;
  symbol.kind = kind;
  symbol.look = look;
  paintSymbol(painter, {45, 45}, symbol, {}, palette);
  return image;
}

TEST(Symbols, EveryKindAndStateLooksDifferent) {
  std::vector<QImage> images;
  for (const auto kind : {Show::Bare, Show::Hungry, Show::Dug, Show::Washed}) {
    for (const auto look : {Show::Open, Show::SownWaiting, Show::Up, Show::Closed}) {
      images.push_back(symbol(kind, look, Palette::sun()));
    }
  }
  for (std::size_t i = 0; i < images.size(); ++i) {
    for (std::size_t j = i + 1; j < images.size(); ++j) EXPECT_NE(images[i], images[j]);
  }
}

TEST(Symbols, DropOfWashedPointsDownhill) {
  const QRectF east = symbolShape(Show::Washed, 36, 90).boundingRect();
  const QRectF south = symbolShape(Show::Washed, 36, 180).boundingRect();
  EXPECT_GT(east.right(), -east.left());
  EXPECT_GT(south.bottom(), -south.top());
}

}  // namespace
}  // namespace swardwalk::mobile
