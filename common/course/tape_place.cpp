#include "common/course/tape_place.h"

#include <fmt/format.h>

#include <algorithm>

#include "common/geo/outline.h"

namespace swardwalk::course {

namespace {

/// A point whose accuracy nobody gave was read off a tablet's receiver.
constexpr double roughPoint_u_m = 4.0;

}  // namespace

Result<TapedPlaces> placesByTapes(const std::vector<TapeReading>& tapes,
                                  const std::vector<Mark>& marks) {
  std::vector<geo::TapeToMark> readings;
  std::optional<geo::LocalPlane> plane;
  for (const TapeReading& tape : tapes) {
    const auto mark = std::find_if(marks.begin(), marks.end(), [&](const Mark& candidate) {
      return candidate.name == tape.mark;
    });
    if (mark == marks.end()) {
      return fail(FailureKind::notFound, "tapes", fmt::format("there is no mark \"{}\"", tape.mark),
                  "record the mark first");
    }
    if (!plane) plane.emplace(mark->position);
    readings.push_back({tape.mark, plane->toLocal(mark->position),
                        mark->accuracy_m.value_or(geo::defaultMark_u_m), tape.distance_m});
  }
  auto places = geo::placesByTape(readings);
  if (!places) return tl::unexpected(std::move(places.error()));
  return TapedPlaces{*plane, std::move(*places)};
}

Result<geo::TapePlace> settledPlace(const TapedPlaces& taped, const Sighting& sighting,
                                    const Green* green) {
  if (sighting.point) {
    const geo::LocalPoint rough = taped.plane.toLocal(*sighting.point);
    const auto doubt = geo::PlaceDoubt::round(sighting.accuracy_m.value_or(roughPoint_u_m));
    if (const geo::TapePlace* settled = geo::settledBy(taped.places, rough, doubt)) return *settled;
    if (taped.places.size() == 1) {
      return fail(FailureKind::invalid, "tapes", "the position and the tapes contradict each other",
                  "see that the tapes were read from those marks");
    }
  }
  if (taped.places.size() == 1) return taped.places.front();
  if (green != nullptr && !green->shape.empty()) {
    const geo::LocalShape shape = taped.plane.toLocal(green->shape);
    const bool first = geo::contains(shape, taped.places[0].place);
    if (first != geo::contains(shape, taped.places[1].place)) return taped.places[first ? 0 : 1];
  }
  return fail(FailureKind::invalid, "tapes", "two places fit, one on each side of the marks",
              "say which side, or measure from a third mark");
}

void placeByTapes(Sighting& sighting, const std::vector<Mark>& marks, const Green* green) {
  if (sighting.tapes.empty() || !sighting.outline.empty()) return;
  const auto taped = placesByTapes(sighting.tapes, marks);
  if (!taped) return;
  const auto settled = settledPlace(*taped, sighting, green);
  if (!settled) return;
  sighting.point = taped->plane.toGlobe(settled->place);
  sighting.accuracy_m = settled->doubt.u_m();
}

}  // namespace swardwalk::course
