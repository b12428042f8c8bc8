#pragma once

#include <boost/json/fwd.hpp>
#include <functional>
#include <string>
#include <string_view>

#include "common/course/features.h"
#include "common/course/state.h"
#include "common/failure.h"
#include "common/journal/journal.h"

namespace swardwalk::course {

/// Who writes on which device.
struct Pen {
  journal::PersonId author{};
  /// Stands in the author's own record, which can be erased; where `author` is nobody, in the
  /// feature's `author` property.
  std::string authorName;
  std::string device;  ///< "Tablet a"
};

/// What a crew does, written down: every action of the app, the sample course and the
/// server's page goes through here, so that they make the same records. Each call
/// returns when the record is on disk (J2). Use from the journal's thread.
class Recorder {
 public:
  using Clock = std::function<std::int64_t()>;  ///< wall clock, ms since 1970

  /// `journal` must outlive the recorder.
  Recorder(journal::Journal& journal, Pen pen, Clock clock);

  /// What is known of the clock from now on: goes into every record's envelope.
  void clockIs(journal::ClockSource source, std::int64_t offset_ms);

  Result<journal::Record> sighting(const Sighting& sighting);
  /// The raw fixes of a walked outline, or of somebody who stood on the place, are kept
  /// beside it (Q2); of a very long walk as many as fit into one record, evenly.
  Result<journal::Record> walkedSighting(const Sighting& sighting,
                                         const std::vector<geo::Fix>& fixes);
  /// A mark with the fixes of the last visit beside it (Q2); none where it was not stood on.
  Result<journal::Record> mark(const Mark& mark, const std::vector<geo::Fix>& fixes);
  Result<journal::Record> frame(const Frame& frame);
  Result<journal::Record> closed(const Closed& closed);
  Result<journal::Record> repair(const Repair& repair);
  Result<journal::Record> cameUp(const CameUp& cameUp);
  /// Its pictures must be on disk before, in the journal's PhotoFolder (J2).
  Result<journal::Record> photo(const Photo& photo);
  Result<journal::Record> choice(const Choice& choice);
  Result<journal::Record> round(const Round& round);
  Result<journal::Record> join(const Join& join);
  Result<journal::Record> water(std::string_view type, const Water& water);
  Result<journal::Record> temperature(const Temperature& temperature);
  /// Materials; a later record of the same name corrects the earlier one. `counted` says when
  /// the stock that it states was counted; absent: now.
  Result<journal::Record> seedLot(const turf::SeedLot& lot,
                                  std::optional<measure::Instant> counted);
  Result<journal::Record> feed(const turf::Feed& feed, std::optional<measure::Instant> counted);
  Result<journal::Record> fill(const turf::Fill& fill, std::optional<measure::Instant> counted);
  Result<journal::Record> turf(const turf::Turf& turf, std::optional<measure::Instant> counted);
  /// Takes back an own or another's record: it leaves the state, and stays in the journal.
  Result<journal::Record> withdraw(const journal::Digest& record, std::string_view why);
  /// Erases another record's body, here at once and everywhere that this record gets to. For
  /// good: no withdrawal brings it back.
  Result<journal::Record> erase(const journal::Digest& record);
  /// Says that an origin may be believed (X5).
  Result<journal::Record> accept(const journal::OriginKey& origin);
  /// Any other feature, as the course file writes it: nothing is added to the body.
  Result<journal::Record> feature(std::string_view type, const boost::json::object& body);

 private:
  /// Adds the pen's author and device.
  Result<journal::Record> signedFeature(std::string_view type, boost::json::object body);
  Result<journal::Record> append(std::vector<journal::Draft> drafts);
  Result<journal::Draft> draft(std::string_view type, const boost::json::object& body) const;
  /// The author's own record, where it is neither here nor was erased.
  Result<std::optional<journal::Draft>> missingPerson() const;

  journal::Journal* journal_;
  Pen pen_;
  Clock clock_;
  bool named_ = false;  ///< the author's own record is here
  journal::ClockSource clockSource_ = journal::ClockSource::none;
  std::int64_t clockOffset_ms_ = 0;
};

/// A new patch's identity: 16 random bytes in hexadecimal.
std::string newPatchId(const std::function<void(std::uint8_t*, std::size_t)>& random);

/// The next label on a green: its first letters as far as no other green shares them,
/// the next free number, and the device's letter where another device could coin the
/// same ("H12b"); `deviceLetter` may be empty.
std::string nextLabel(const CourseState& state, std::string_view green,
                      std::string_view deviceLetter);

}  // namespace swardwalk::course
