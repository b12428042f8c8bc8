#pragma once

#include <set>
#include <string>
#include <vector>

#include "common/course/ground.h"
#include "common/course/state.h"

namespace swardwalk::course {

/// What was recorded about patches, not yet put together.
struct PatchPieces {
  std::set<std::string> made;  ///< identities that a sighting made, at whatever time
  std::vector<Sighting> sightings;
  std::vector<Closed> closed;
  std::vector<Repair> repairs;
  std::vector<CameUp> cameUp;
  std::vector<Choice> choices;
  std::vector<Photo> photos;
  std::vector<Join> joins;
};

/// Puts the pieces together: identities that are joined, directly or over others, are one
/// patch under the smallest of them, so that the order of joining and of undoing plays no
/// part (X4). A patch without a sighting in `pieces` is not there yet. What names a patch
/// that nobody made goes to `unusable`.
std::vector<Patch> makePatches(PatchPieces pieces, const Ground& ground,
                               std::vector<Unusable>& unusable);

}  // namespace swardwalk::course
