#pragma once

#include <string>
#include <vector>

#include "common/journal/journal.h"

namespace swardwalk::journal {

struct Rescued {
  std::uint64_t records = 0;  ///< saved, with or without their bodies
  std::uint64_t bodies = 0;   ///< of them, those whose body was damaged: saved without it
  std::vector<Finding> lost;  ///< where branches stop, and what to do
};

/// Saves what can be read of a damaged journal's file into `into`, which must be blank: of
/// each branch the records from its beginning as far as every digest holds and the origin
/// signed. A record whose body alone is damaged is saved as an erased one is, so that what
/// follows it still verifies, and gets its body back at a later exchange (lost_bodies.h). The
/// damaged file is copied first and never touched. Fails where the file cannot be read at all or
/// names no course.
Result<Rescued> rescue(const std::string& damaged, const std::string& scratchDirectory,
                       Journal& into);

}  // namespace swardwalk::journal
