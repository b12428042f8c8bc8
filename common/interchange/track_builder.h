#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "common/geo/walk.h"
#include "common/interchange/outline_file.h"

namespace swardwalk::interchange {

/// The whole text as a finite number, blanks about it left out; any locale.
std::optional<double> numberIn(std::string_view text);

/// RFC 3339, UTC where no offset is said, a blank for the T allowed; or seconds since 1970.
std::optional<measure::Instant> timeIn(std::string_view text);

/// A position as a file says it; what is not there is absent.
struct ReadPosition {
  std::optional<double> latitude_deg;
  std::optional<double> longitude_deg;
  std::optional<double> accuracy_m;
  std::optional<measure::Instant> time;
};

/// Gathers the positions of one track. Use from one thread.
class TrackBuilder {
 public:
  /// `where` names the position in a message.
  void add(const ReadPosition& position, const std::string& where);
  void add(const geo::Fix& fix);

  /// A position that could not be read, with the reason.
  void pass(std::string reason);

  std::size_t size() const { return fixes_.size() + untimed_.size(); }
  bool isFull() const { return size() > geo::mostFixesOfWalk; }
  int unreadable() const { return unreadable_; }
  const std::string& firstReason() const { return firstReason_; }

  /// The outline or the track that the positions are; fails where there are none or too
  /// many.
  Result<answers::ToMeasure> build(const std::string& name) &&;

 private:
  std::vector<geo::Fix> fixes_;
  std::vector<geo::Fix> untimed_;
  int unreadable_ = 0;
  std::string firstReason_;
};

}  // namespace swardwalk::interchange
