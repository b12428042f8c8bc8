#include "common/answers/urgency.h"

namespace swardwalk::answers {

int urgency(const PatchProgress& patch) {
  if (patch.look == Look::closed) return 5;
  if (patch.late) return 0;
  switch (patch.weight) {
    case Weight::stop:
      return 1;
    case Weight::watch:
      return 2;
    case Weight::calm:
      return 3;
    case Weight::good:
      break;
  }
  return 4;
}

}  // namespace swardwalk::answers
