#pragma once

#include <string>

#include "mobile/app/show.h"

/// What the ways to a better place say alike.
namespace swardwalk::mobile {

AdviceText watch(const QString& title, const QString& reason);

/// Begins with a capital.
QString sentence(const std::string& words);

}  // namespace swardwalk::mobile
