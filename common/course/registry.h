#pragma once

#include <boost/json/fwd.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "common/failure.h"
#include "common/journal/record.h"

namespace swardwalk::course {

/// Roles and types: a record of the course is a GeoJSON feature without its envelope.
/// Its body is {"geometry": …, "properties": {…}} and its `type` is the feature's role.
/// The registry names each type once, with its version, its check, and whether it is a
/// thing with a name (a later one corrects an earlier one) or an event.
struct RecordType {
  std::string_view type;
  int version = 1;            ///< the newest that this build reads
  bool inCourseFile = false;  ///< a role of the course file, too
  enum class Sort { named, event, keeping } sort = Sort::event;
  std::string_view what;  ///< one sentence, for FORMAT.md's table
  /// Says what is wrong with geometry and properties (rule J6), or nothing.
  std::optional<Failure> (*check)(const boost::json::object& body) = nullptr;
  /// What it is about: patch, green or the thing's name.
  std::string (*subject)(const boost::json::object& body) = nullptr;
  /// What a named thing is told apart by within its type; nullptr for others.
  std::string (*nameKey)(const boost::json::object& body) = nullptr;
  /// The property that holds an event's moment; empty: it has none, or a day.
  std::string_view moment;
};

/// All types, in the order of the table.
const std::vector<RecordType>& recordTypes();

/// The type with this name, or nullptr.
const RecordType* findType(std::string_view type);

/// Separates the parts of a name key.
inline constexpr char keySeparator = '\x1f';

/// Checks a body, also against what only this machine knows (which time zones there
/// are: the fold leaves that out, since machines differ), and makes the draft of a record from it;
/// author, clock and wall_ms are the caller's to fill in. Fails with `invalid`, in words.
Result<journal::Draft> draftOf(std::string_view type, const boost::json::object& body);

/// Digest of type, geometry and properties with keys sorted and numbers in one form:
/// equal JSON values give equal digests.
journal::Digest featureDigest(std::string_view type, const boost::json::object& body);

/// The table of record types as it stands in FORMAT.md.
std::string registryTable();

}  // namespace swardwalk::course
