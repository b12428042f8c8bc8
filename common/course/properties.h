#pragma once

#include <boost/json.hpp>
#include <optional>
#include <string_view>
#include <utility>

#include "common/course/features.h"
#include "common/course/write_features.h"

namespace swardwalk::course {

/// Collects properties; what is absent or empty is left out.
class Properties {
 public:
  Properties& text(std::string_view key, std::string_view value) {
    if (!value.empty()) object_[key] = value;
    return *this;
  }
  Properties& moment(std::string_view key, measure::Instant value) {
    object_[key] = writeInstant(value);
    return *this;
  }
  Properties& number(std::string_view key, const std::optional<double>& value) {
    if (value) object_[key] = *value;
    return *this;
  }
  Properties& flag(std::string_view key, bool value) {
    if (value) object_[key] = true;
    return *this;
  }
  Properties& value(std::string_view key, boost::json::value value) {
    object_[key] = std::move(value);
    return *this;
  }
  /// The whole body.
  boost::json::object body(const Source& source, boost::json::value geometry = nullptr) {
    text("author", source.author).text("device", source.device).text("note", source.note);
    return {{"geometry", std::move(geometry)}, {"properties", std::move(object_)}};
  }

 private:
  boost::json::object object_;
};

}  // namespace swardwalk::course
