#include "common/answers/closing_curve.h"

#include <algorithm>

#include "common/geo/local_plane.h"
#include "common/geo/outline.h"
#include "common/geo/tape.h"

namespace swardwalk::answers {
namespace {

/// The form of a sighting on a plane: outline, else tape; empty where neither is there.
geo::LocalShape formOf(const course::Sighting& sighting) {
  if (!sighting.outline.empty()) {
    return geo::planeFor(sighting.outline).toLocal(sighting.outline);
  }
  const auto& tape = sighting.tape;
  if (!tape || !(tape->length_m > 0.0) || !(tape->width_m > 0.0)) return {};
  return {{geo::tapeRing(tape->form, tape->length_m, tape->width_m), {}}};
}

bool hasForm(const course::Sighting& sighting) {
  const auto& tape = sighting.tape;
  return !sighting.outline.empty() || (tape && tape->length_m > 0.0 && tape->width_m > 0.0);
}

/// The curve of the chapter's largest form, its area brought to what was measured.
KeptCurve curveOf(const std::vector<Sized>& sizes, KeptWork& kept) {
  const Sized* largest = nullptr;
  for (const Sized& sized : sizes) {
    if (sized.area_m2.value > 0.0 &&
        (largest == nullptr || sized.area_m2.value > largest->area_m2.value) &&
        hasForm(*sized.sighting)) {
      largest = &sized;
    }
  }
  if (largest == nullptr) return {};
  const journal::Digest form = formDigest(*largest->sighting);
  return kept.curves.get(form, [&]() -> KeptCurve {
    const geo::LocalShape local = formOf(*largest->sighting);
    if (!(geo::area_m2(local) > 0.0)) return {form, nullptr};
    for (const geo::LocalPolygon& polygon : local) {
      if (geo::crossesItself(polygon.outer)) return {form, nullptr};
    }
    return {form, std::make_shared<const geo::InsetCurve>(local)};
  });
}

}  // namespace

std::vector<infill::CoverSeen> coverOf(const std::vector<Sized>& sizes) {
  constexpr double mostPlants = 0.05;
  constexpr double fewestPlants = 0.95;
  constexpr double shrinks = 0.9;
  std::vector<infill::CoverSeen> looks;
  double first_m2 = 0.0;
  double last_m2 = 0.0;
  for (const Sized& sized : sizes) {
    const auto& bare = sized.sighting->bareShare;
    if (!bare || *bare < mostPlants || *bare > fewestPlants) return {};
    last_m2 = sized.area_m2.value / *bare;
    if (looks.empty()) first_m2 = last_m2;
    looks.push_back({sized.day, {1.0 - *bare, std::nullopt}});
  }
  if (last_m2 < shrinks * first_m2) return {};
  return looks;
}

KeptCurve trustedCurve(const std::vector<Sized>& sizes, const infill::PatchHistory& history,
                       KeptWork& kept) {
  double largest_m2 = 0.0;
  for (const Sized& sized : sizes) largest_m2 = std::max(largest_m2, sized.area_m2.value);
  KeptCurve form = curveOf(sizes, kept);
  const auto shape = infill::GapShape::of(form.curve.get(), largest_m2);
  if (!form.curve || !shape) return form;
  const auto wild = infill::wildSize(*shape, history.sizes, history.prior, history.time.get());
  if (!wild) return form;
  std::vector<Sized> tame = sizes;
  tame.erase(tame.begin() + static_cast<std::ptrdiff_t>(*wild));
  return curveOf(tame, kept);
}

}  // namespace swardwalk::answers
