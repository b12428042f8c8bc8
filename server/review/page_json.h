#pragma once

#include <string>
#include <string_view>

#include "server/shed/shed.h"

/// What the review page shows, as JSON with every number ready to read: the page itself
/// formats, rounds and adds nothing. Places are metres on a plane, for drawing only.
namespace swardwalk::server::review {

/// The most urgent thing, a card for each green, what is new, rain, who was out.
std::string overviewJson(const CourseAnswers& all);

/// One green: its plan, and its patches with the late ones first. The empty name is for
/// patches that lie on no green. Empty where there is no such green.
std::string greenJson(const CourseAnswers& all, std::string_view green);

/// One patch: answer, chart, life, and its repair. Empty where there is no such patch.
std::string patchJson(const CourseAnswers& all, std::string_view patch);

/// The plan as the page's tables.
std::string repairsJson(const CourseAnswers& all);

}  // namespace swardwalk::server::review
