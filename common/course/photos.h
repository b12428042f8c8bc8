#pragma once

#include <vector>

#include "common/failure.h"
#include "common/journal/journal.h"
#include "common/journal/photo_folder.h"

namespace swardwalk::course {

/// A picture that a record names.
struct NamedPhoto {
  journal::Digest photo{};
  journal::OriginKey origin{};  ///< whose record names it: who most likely has it
};

/// Every picture that a record names whose body is here, withdrawn or not, once each: the
/// small ones first, and of each sort the newest first. Use from the journal's thread.
Result<std::vector<NamedPhoto>> namedPhotos(const journal::Journal& journal);

/// Drops the pictures that were named `before` and no record names `now`: those of records
/// that were erased in between. Others that no record names may belong to records that a
/// restored journal lacks for a while, and stay.
void dropErased(journal::PhotoFolder& photos, const std::vector<NamedPhoto>& before,
                const std::vector<NamedPhoto>& now);

}  // namespace swardwalk::course
