#pragma once

#include <boost/json/fwd.hpp>
#include <cstddef>
#include <memory>
#include <string>
#include <string_view>

#include "common/failure.h"

/// JSON as course records and course files need it: numbers survive reading and writing,
/// and untrusted text cannot exhaust the stack.
namespace swardwalk::course {

namespace limits {
/// Arrays and objects inside each other; GeoJSON needs 8.
inline constexpr std::size_t jsonDepth = 64;
}  // namespace limits

/// Reads JSON text. Every number becomes the nearest double (or an exact integer): the
/// parser of Boost 1.81 alone may be off in the last place, so that a feature would
/// change on each way through a file. Keeps its memory from one text to the next.
/// Use from one thread.
class JsonReader {
 public:
  JsonReader();
  ~JsonReader();
  JsonReader(const JsonReader&) = delete;
  JsonReader& operator=(const JsonReader&) = delete;

  /// The value lives until the next `read`. Fails with `invalid`; `where` is then
  /// "line 3, column 14". A number beyond a double's range fails, too.
  Result<const boost::json::value*> read(std::string_view text);

 private:
  struct Inner;
  std::unique_ptr<Inner> inner_;
};

/// Writes on one line: members in their order, numbers in their shortest form that reads
/// back the same, text as UTF-8.
std::string writeJson(const boost::json::value& value);
std::string writeJson(const boost::json::object& object);

/// The same with members sorted by name: equal JSON values, equal texts.
std::string canonicalJson(const boost::json::value& value);

}  // namespace swardwalk::course
