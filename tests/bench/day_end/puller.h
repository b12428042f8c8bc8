#pragma once

#include <cstdint>

#include "common/journal/record.h"

namespace swardwalk::bench {

/// Asks a shed for everything, so many messages long, and keeps nothing of it: a tablet whose
/// own work does not slow the shed's down.
void pull(std::uint16_t port, const journal::CourseId& course, unsigned messages);

}  // namespace swardwalk::bench
