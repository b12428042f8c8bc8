#include "mobile/walk/kinds.h"

#include <cassert>

namespace swardwalk::mobile {

turf::Kind turfKind(Show::Kind kind) {
  assert(kind != Show::NoKind);
  switch (kind) {
    case Show::Hungry:
      return turf::Kind::hungry;
    case Show::Dug:
      return turf::Kind::dug;
    case Show::Washed:
      return turf::Kind::washed;
    case Show::Bare:
    case Show::NoKind:
      break;
  }
  return turf::Kind::bare;
}

}  // namespace swardwalk::mobile
