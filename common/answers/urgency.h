#pragma once

#include "common/answers/progress.h"

namespace swardwalk::answers {

/// Where a patch stands in every list: 0 what is late, then what is wrong, what wants an
/// eye, what is calm, what goes well, and 5 what is closed. Stable sorting keeps the order
/// of the answer among equals.
int urgency(const PatchProgress& patch);

}  // namespace swardwalk::answers
