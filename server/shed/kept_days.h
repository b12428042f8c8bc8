#pragma once

#include <vector>

#include "common/measure/instant.h"

namespace swardwalk::server {

/// How many daily copies are kept.
struct KeepingRule {
  std::size_t days = 7;     ///< the newest ones
  std::size_t weeks = 5;    ///< of so many weeks, Monday to Sunday, the newest of each
  std::size_t months = 12;  ///< of so many months the newest of each
};

/// Which of the copies of these days are kept, oldest first. Weeks and months without a copy
/// do not count, so that a shed that is closed over winter keeps what it has.
std::vector<measure::Date> keptDays(std::vector<measure::Date> days, const KeepingRule& rule = {});

}  // namespace swardwalk::server
