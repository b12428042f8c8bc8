#pragma once

#include <boost/json/fwd.hpp>
#include <vector>

#include "common/course/features.h"

/// Plain values as record bodies: {"geometry": …, "properties": {…}}. What is absent is
/// left out, so that reading the body gives the value back.
namespace swardwalk::course {

boost::json::object bodyOf(const Sighting& sighting);
boost::json::object bodyOf(const Mark& mark);
boost::json::object bodyOf(const Frame& frame);
boost::json::object bodyOf(const Closed& closed);
boost::json::object bodyOf(const Repair& repair);
boost::json::object bodyOf(const CameUp& cameUp);
boost::json::object bodyOf(const Photo& photo);
boost::json::object bodyOf(const Choice& choice);
boost::json::object bodyOf(const Round& round);
boost::json::object bodyOf(const Join& join);
boost::json::object bodyOf(const Water& water);
boost::json::object bodyOf(const Temperature& temperature);
/// Materials; `counted` says when their stock was counted, absent: with this record.
boost::json::object bodyOf(const turf::SeedLot& lot, std::optional<measure::Instant> counted);
boost::json::object bodyOf(const turf::Feed& feed, std::optional<measure::Instant> counted);
boost::json::object bodyOf(const turf::Fill& fill, std::optional<measure::Instant> counted);
boost::json::object bodyOf(const turf::Turf& turf, std::optional<measure::Instant> counted);

/// The fixes of a walk as the property `fixes`: {"from": time, "every": n, "list":
/// [[seconds, longitude, latitude, accuracy or null], …]}; every n-th one is kept where
/// all would take more than `mostBytes`.
boost::json::object fixesOf(const std::vector<geo::Fix>& fixes, std::size_t mostBytes);

/// RFC 3339 in UTC, with milliseconds where there are any.
std::string writeInstant(measure::Instant instant);

}  // namespace swardwalk::course
