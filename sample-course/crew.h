#pragma once

#include <string>
#include <variant>
#include <vector>

#include "common/course/features.h"
#include "sample-course/season.h"

/// What the crew saw and did, tablet by tablet and day by day: the truth through wet
/// hands, a tape and a receiver.
namespace swardwalk::sample {

struct Tablet {
  std::string letter;  ///< "a", "b", "c"
  std::string person;
  double accuracy_m = 2.4;      ///< of its receiver, on each axis
  long long clockWrong_ms = 0;  ///< wall clock minus truth
  int awayFrom = -1;            ///< days on which it does not come to the shed
  int awayUntil = -1;
};

const std::vector<Tablet>& tablets();

/// One thing that somebody did at a moment; patches and labels as the app would know
/// them are filled in when it is recorded.
struct Action {
  measure::Instant when;
  std::variant<course::Sighting, course::Closed, course::Repair, course::CameUp, course::Join,
               course::Choice, course::Round>
      what;
  std::vector<geo::Fix> fixes;  ///< of a walked outline
  std::size_t green = 0;
};

/// A walk's fixes also as the NMEA log that the receiver sent.
std::string nmeaOf(const std::vector<geo::Fix>& fixes);

/// Everything that the crew of a season does. Deterministic in its seed.
class Crew {
 public:
  Crew(const Season& season, measure::Date firstDay, std::uint64_t seed);

  /// What `letter`'s tablet records on a day, by time.
  std::vector<Action> dayOf(const std::string& letter, int day) const;

  /// A walk over a green, with the receiver's drift: fixes every second.
  std::vector<geo::Fix> walkOver(std::size_t green, const Tablet& tablet, measure::Instant start,
                                 std::uint64_t seed) const;

  /// The records that the shed keeps itself: rain, temperature, mowing, feeding; a
  /// course file.
  std::string shedFile() const;

  measure::Date dateOf(int day) const { return firstDay_ + std::chrono::days(day); }

 private:
  struct Look;
  void look(std::vector<Action>& actions, const Look& look) const;
  void milestones(std::vector<Action>& actions, const Look& look) const;
  course::Sighting sightingOf(const Look& look) const;

  const Season* season_;
  measure::Date firstDay_;
  std::uint64_t seed_;
};

}  // namespace swardwalk::sample
