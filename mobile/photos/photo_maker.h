#pragma once

#include <QString>
#include <string>

#include "common/failure.h"

namespace swardwalk::mobile {

/// A picture ready to be kept: upright, as JPEG, and nothing of the camera in it but what it
/// saw (no place, no serial number).
struct MadePhoto {
  std::string whole;  ///< at most `photoSide_px` long
  std::string small;  ///< at most `smallPhotoSide_px` long, for lists
};

inline constexpr int photoSide_px = 2560;
inline constexpr int smallPhotoSide_px = 480;

/// Reads a picture file of any sort that this tablet can read. `invalid` where it is none.
Result<MadePhoto> makePhoto(const QString& file);

}  // namespace swardwalk::mobile
