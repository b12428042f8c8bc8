#include "common/interchange/references.h"

#include <boost/json.hpp>

#include "common/course/checks.h"

namespace swardwalk::interchange {

namespace json = boost::json;

namespace {

struct Link {
  std::string_view role;
  std::string_view property;
  std::string_view what;
};

constexpr Link links[] = {
    {"surround", "green", "green"}, {"sighting", "green", "green"},
    {"frame", "green", "green"},    {"closed", "patch", "patch"},
    {"repair", "patch", "patch"},   {"repair", "green", "green"},
    {"repair", "fill", "fill"},     {"repair", "seed_lot", "seed_lot"},
    {"repair", "feed", "feed"},     {"came_up", "patch", "patch"},
    {"choice", "patch", "patch"},   {"mowing", "green", "green"},
    {"feeding", "green", "green"},  {"feeding", "feed", "feed"},
    {"round", "green", "green"},    {"join", "patch", "patch"},
    {"join", "same_as", "patch"},   {"photo", "patch", "patch"},
};

std::string keyOf(std::string_view what, std::string_view name) {
  return std::string(what).append(1, '\n').append(name);
}

}  // namespace

std::vector<Reference> referencesOf(std::string_view role, const json::object& body) {
  std::vector<Reference> references;
  const json::object* properties = course::propertiesOf(body);
  if (properties == nullptr) return references;
  for (const Link& link : links) {
    if (link.role != role) continue;
    const std::string_view name = course::textOf(*properties, link.property);
    if (!name.empty()) references.push_back({link.what, link.property, std::string(name)});
  }
  if (role != "sighting") return references;
  const json::value* tapes = course::present(*properties, "tapes");
  if (tapes == nullptr || !tapes->is_array()) return references;
  for (const json::value& reading : tapes->get_array()) {
    if (const json::object* object = reading.if_object())
      references.push_back({"mark", "tapes", std::string(course::textOf(*object, "mark"))});
  }
  return references;
}

void Names::take(std::string_view role, std::string_view subject) {
  static constexpr std::string_view named[] = {"green", "mark", "seed_lot", "feed", "fill"};
  if (role == "sighting") {
    names_.insert(keyOf("patch", subject));
    return;
  }
  for (const std::string_view thing : named) {
    if (role == thing) names_.insert(keyOf(role, subject));
  }
}

bool Names::hold(const Reference& reference) const {
  return names_.contains(keyOf(reference.what, reference.name));
}

}  // namespace swardwalk::interchange
