#pragma once

#include <string>

#include "common/journal/record.h"

namespace swardwalk::journal {

/// The bytes that an origin signs to state its head (FORMAT.md, "Head signature").
std::string headInput(const CourseId& course, const Head& head);

}  // namespace swardwalk::journal
