#pragma once

#include <boost/json/fwd.hpp>

#include "server/shed/shed.h"

namespace swardwalk::server::review {

/// Who was last on each green, when, and how many of its open patches were seen then:
/// [{"green", "who", "when", "seen", "note", "weight"}].
boost::json::array walksJson(const CourseAnswers& all);

/// What came since the beginning of yesterday: [{"count", "what", "weight"}].
boost::json::array newsJson(const CourseAnswers& all);

}  // namespace swardwalk::server::review
