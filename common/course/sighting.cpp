#include <cmath>

#include "common/course/state.h"
#include "common/geo/local_plane.h"
#include "common/geo/outline.h"
#include "common/geo/tape.h"

namespace swardwalk::course {

namespace {

measure::Measured outlineArea_m2(const geo::GlobeShape& outline, double edge_u_m) {
  const geo::LocalPlane plane = geo::planeFor(outline);
  measure::Measured area_m2 = measure::exact(0.0);
  for (const geo::GlobePolygon& polygon : outline)
    area_m2 = area_m2 + geo::outlineArea_m2(plane.toLocal(polygon), edge_u_m);
  return area_m2;
}

}  // namespace

std::optional<measure::Measured> areaOf(const Sighting& sighting) {
  // A counting frame counts what is bare: a share of it would be taken twice.
  const measure::Measured share{sighting.bareShare.value_or(1.0),
                                sighting.bareShare_u.value_or(0.0)};
  if (sighting.area_m2) return share * *sighting.area_m2;
  if (!sighting.outline.empty()) return share * outlineArea_m2(sighting.outline, sighting.edge_u_m);
  if (sighting.tape && sighting.paces) {
    const PacedSize& paces = *sighting.paces;
    return share * geo::pacedArea_m2(sighting.tape->form, paces.length_paces, paces.width_paces,
                                     paces.pace_m, sighting.edge_u_m);
  }
  if (const auto& tape = sighting.tape) {
    return share * geo::tapeArea_m2(tape->form, tape->length_m, tape->width_m, sighting.edge_u_m);
  }
  if (const auto& frame = sighting.frame) {
    return geo::frameArea_m2(frame->squaresBare, frame->squares, frame->frame_m2,
                             sighting.edge_u_m);
  }
  return std::nullopt;
}

bool hasArea(const Sighting& sighting) {
  return sighting.area_m2 || !sighting.outline.empty() || sighting.tape || sighting.frame;
}

geo::GlobeShape shapeOf(const Sighting& sighting) {
  if (!sighting.outline.empty()) return sighting.outline;
  if (!sighting.point || !sighting.tape) return {};
  const TapeSize& tape = *sighting.tape;
  if (tape.length_m <= 0.0 || tape.width_m <= 0.0) return {};
  const geo::LocalPlane plane(*sighting.point);
  return {{plane.toGlobe(geo::tapeRing(tape.form, tape.length_m, tape.width_m)), {}}};
}

std::optional<geo::Position> placeOf(const Sighting& sighting) {
  if (sighting.point) return sighting.point;
  if (sighting.outline.empty()) return std::nullopt;
  const geo::LocalPlane plane = geo::planeFor(sighting.outline);
  return plane.toGlobe(geo::centroid(plane.toLocal(sighting.outline)));
}

}  // namespace swardwalk::course
