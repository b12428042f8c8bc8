#pragma once

#include <optional>
#include <string>

#include "mobile/app/palette.h"
#include "mobile/plan/plan_scene.h"
#include "mobile/plan/plan_view.h"

class QPainter;

namespace swardwalk::mobile {

/// Draws a plan in the look of look.md with whatever QPainter is given.
void paintPlan(QPainter& painter, const PlanScene& scene, const PlanView& view,
               const Palette& palette);

/// The patch whose symbol or outline lies under a finger, the nearest first.
std::optional<std::string> patchAt(const PlanScene& scene, const PlanView& view, QPointF pixel);

}  // namespace swardwalk::mobile
