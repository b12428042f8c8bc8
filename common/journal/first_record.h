#pragma once

#include <string>
#include <string_view>

#include "common/journal/record.h"

/// Record 1 of every origin is the one that the journal writes and reads itself.
namespace swardwalk::journal {

inline constexpr std::string_view originType = "origin";

/// Does this record show that its origin founded the course? The course's id is the
/// digest of the founder's key and the nonce that stands here.
bool isFounding(const Record& record, const CourseId& course);

/// How the device calls itself in its first record; empty where it doesn't say.
std::string deviceNameOf(const Record& record);

}  // namespace swardwalk::journal
