#pragma once

#include <boost/json/fwd.hpp>
#include <string_view>

#include "server/shed/shed.h"

namespace swardwalk::server::review {

/// What the plan of a green is drawn from: {"bounds": [west, south, east, north],
/// "outline", "surrounds", "marks", "places", "walk", "scales"}; shapes are polygons of
/// rings of [east, north] in metres. Null where nothing has a place.
boost::json::value planJson(const CourseAnswers& all, std::string_view green);

}  // namespace swardwalk::server::review
