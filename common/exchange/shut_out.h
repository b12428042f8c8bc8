#pragma once

#include <functional>

#include "common/journal/record.h"

namespace swardwalk::exchange {

/// Does what is new of this origin wait, because its device was shut out? It is left with
/// who brought it, under the trouble "waits"; what came before stays. None: of nobody.
using IsShutOut = std::function<bool(const journal::OriginKey&)>;

}  // namespace swardwalk::exchange
