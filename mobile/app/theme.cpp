#include "mobile/app/theme.h"

namespace swardwalk::mobile {

QVariantList Theme::weights() const {
  static_assert(Show::Calm == 0 && Show::Good == 1 && Show::Watch == 2 && Show::Stop == 3);
  return {ink(), action(), watch(), stop()};
}

}  // namespace swardwalk::mobile
