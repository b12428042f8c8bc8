#include "mobile/app/theme.h"

namespace swardwalk::mobile {

QColor Theme::weight(Show::Weight weight) const {
  switch (weight) {
    case Show::Calm:
      return ink();
    case Show::Good:
      return action();
    case Show::Watch:
      return watch();
    case Show::Stop:
      return stop();
  }
  return ink();
}

}  // namespace swardwalk::mobile
