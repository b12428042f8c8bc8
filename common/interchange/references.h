#pragma once

#include <boost/json/fwd.hpp>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "common/failure.h"
#include "common/journal/journal.h"

/// What features call each other by.
namespace swardwalk::interchange {

/// A name that a feature leans on: "green" North, "patch" N7.
struct Reference {
  std::string_view what;      ///< green, patch, mark, seed_lot, feed or fill
  std::string_view property;  ///< where it stands
  std::string name;
};

/// What a feature of this role refers to by name. The body must have passed its check.
std::vector<Reference> referencesOf(std::string_view role, const boost::json::object& body);

/// Names that are there to be referred to.
class Names {
 public:
  /// Takes what a feature brings: a named thing its name, a sighting its patch. Others
  /// bring nothing.
  void take(std::string_view role, std::string_view subject);
  bool hold(const Reference& reference) const;

 private:
  std::set<std::string> names_;  ///< "green", a line feed, and the name
};

}  // namespace swardwalk::interchange
