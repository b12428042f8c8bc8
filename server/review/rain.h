#pragma once

#include <boost/json/fwd.hpp>

#include "server/shed/shed.h"

namespace swardwalk::server::review {

/// The last 14 days of rain: {"total", "chart" (SVG), "heaviest"}; null where none was
/// written down in that time.
boost::json::value rainJson(const CourseAnswers& all);

}  // namespace swardwalk::server::review
