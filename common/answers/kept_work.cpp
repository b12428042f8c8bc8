#include "common/answers/kept_work.h"

#include <bit>

#include "common/journal/digest.h"

namespace swardwalk::answers {

void KeptWork::endRound() {
  areas.endRound();
  curves.endRound();
  forecasts.endRound();
  bare_m2.endRound();
  chances.endRound();
}

Inputs& Inputs::addNumber(std::uint64_t number) {
  char bytes[sizeof number];
  std::memcpy(bytes, &number, sizeof number);
  bytes_.append(bytes, sizeof number);
  return *this;
}

// Not by ==, which takes -0 for 0.
Inputs& Inputs::add(double value) { return addNumber(std::bit_cast<std::uint64_t>(value)); }

Inputs& Inputs::add(const journal::Digest& digest) {
  bytes_.append(digest.begin(), digest.end());
  return *this;
}

Inputs& Inputs::add(const std::optional<double>& value) {
  addNumber(value ? 1 : 0);
  return value ? add(*value) : *this;
}

Inputs& Inputs::add(const measure::Measured& value) { return add(value.value).add(value.u); }

Inputs& Inputs::add(const turf::Range& range) {
  return add(range.best).add(range.low).add(range.high);
}

Inputs& Inputs::add(const std::optional<turf::Range>& range) {
  addNumber(range ? 1 : 0);
  return range ? add(*range) : *this;
}

Inputs& Inputs::add(const geo::GlobeShape& shape) {
  const auto addRing = [this](const geo::GlobeRing& ring) {
    addNumber(ring.size());
    for (const geo::Position& point : ring) add(point.latitude_deg).add(point.longitude_deg);
  };
  addNumber(shape.size());
  for (const geo::GlobePolygon& polygon : shape) {
    addRing(polygon.outer);
    addNumber(polygon.holes.size());
    for (const geo::GlobeRing& hole : polygon.holes) addRing(hole);
  }
  return *this;
}

journal::Digest Inputs::digest() const { return journal::blake2b(bytes_); }

namespace {

void addTape(Inputs& inputs, const course::Sighting& sighting) {
  const auto& tape = sighting.tape;
  inputs.addNumber(tape ? 1 + static_cast<std::uint64_t>(tape->form) : 0);
  if (tape) inputs.add(tape->length_m).add(tape->width_m);
}

}  // namespace

journal::Digest formDigest(const course::Sighting& sighting) {
  Inputs inputs;
  inputs.add(sighting.outline);
  addTape(inputs, sighting);
  return inputs.digest();
}

journal::Digest measuredDigest(const course::Sighting& sighting) {
  Inputs inputs;
  inputs.add(sighting.outline);
  addTape(inputs, sighting);
  inputs.addNumber(sighting.area_m2 ? 1 : 0);
  if (sighting.area_m2) inputs.add(*sighting.area_m2);
  inputs.addNumber(sighting.paces ? 1 : 0);
  if (const auto& paces = sighting.paces) {
    inputs.add(paces->length_paces).add(paces->width_paces).add(paces->pace_m);
  }
  inputs.addNumber(sighting.frame ? 1 : 0);
  if (const auto& frame = sighting.frame) {
    inputs.addNumber(static_cast<std::uint64_t>(frame->squaresBare));
    inputs.addNumber(static_cast<std::uint64_t>(frame->squares)).add(frame->frame_m2);
  }
  inputs.add(sighting.edge_u_m).add(sighting.bareShare).add(sighting.bareShare_u);
  return inputs.digest();
}

journal::Digest historyDigest(const infill::PatchHistory& history, const journal::Digest& curve) {
  // Taken apart, so that a value that is added to a history cannot be forgotten here.
  const auto& [kind, chapter, sizes, sightings, closedDay, sownDay, upDay, daysUntilUp,
               sownToPuttable_d, turfedDay, coverSeen, outline, prior, pool, time, today, knit_d] =
      history;
  const auto& [patches, shift, learned2, scatter2, belief] = pool;
  Inputs inputs;
  inputs.addNumber(static_cast<std::uint64_t>(kind));
  inputs.addNumber(static_cast<std::uint64_t>(chapter));
  inputs.addNumber(sizes.size());
  for (const infill::SizeSeen& size : sizes) inputs.add(size.day).add(size.area_m2);
  inputs.addNumber(static_cast<std::uint64_t>(sightings));
  inputs.add(closedDay).add(sownDay).add(upDay).add(daysUntilUp).add(sownToPuttable_d);
  inputs.add(turfedDay).addNumber(coverSeen.size());
  for (const infill::CoverSeen& look : coverSeen) inputs.add(look.day).add(look.share);
  inputs.addNumber(outline ? 1 : 0).add(curve);
  inputs.addNumber(prior ? 1 : 0);
  if (prior) inputs.add(prior->creep_mm_d);
  inputs.addNumber(static_cast<std::uint64_t>(patches));
  inputs.add(shift).add(learned2).add(scatter2).add(belief);
  inputs.addNumber(time ? 1 : 0);
  if (time) {
    inputs.add(time->firstDay()).add(time->after_d()).addNumber(time->sums_d().size());
    for (const double sum : time->sums_d()) inputs.add(sum);
  }
  inputs.add(today).add(knit_d);
  return inputs.digest();
}

}  // namespace swardwalk::answers
