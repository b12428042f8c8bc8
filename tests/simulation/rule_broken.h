#pragma once

#include <stdexcept>

namespace swardwalk::simulation {

/// What must always hold did not; the text begins with the rule's number.
class RuleBroken : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

}  // namespace swardwalk::simulation
