#pragma once

#include <string>
#include <string_view>

#include "common/answers/plan.h"
#include "common/answers/progress.h"
#include "common/course/state.h"

/// A small invented course built in code, so that answers are tested without a journal.
namespace swardwalk::answers::test {

measure::Date date(std::string_view text);
measure::Instant at(std::string_view text);

/// A rectangle on the ground, metres from the course's middle; `east_m`, `north_m` is
/// its south-west corner.
geo::GlobeShape rectangle(double east_m, double north_m, double width_m, double height_m);
geo::Position place(double east_m, double north_m);

/// Numbers every record it makes, so that edits have an order.
class CourseBuilder {
 public:
  /// Quillbeck: the green North, 25 x 20 m of creeping bentgrass with a bank of ryegrass,
  /// opening on 15 May 2027, time zone Europe/London.
  CourseBuilder();

  course::CourseState state;

  course::Patch& patch(std::string id, course::Zone zone = course::Zone::green,
                       std::string green = "North");
  /// A sighting by tape as a rectangle; without length it has no size.
  course::Sighting& seen(course::Patch& patch, std::string_view when, turf::Kind kind,
                         double length_m = 0.0, double width_m = 0.0);
  course::Repair& repair(course::Patch& patch, std::string_view when);
  course::Repair& sown(course::Patch& patch, std::string_view when, std::string lot = "Bent 26-4",
                       double seed_g = 10.0);
  void up(course::Patch& patch, std::string_view when);
  void closed(course::Patch& patch, std::string_view when);
  void choose(course::Patch& patch, std::string choice, std::string author = {},
              std::string why = {});
  void rain(std::string_view day, double amount_mm, std::optional<double> peak_mm_h = {});
  /// One mean for each day of [from, to].
  void temperature(std::string_view from, std::string_view to, double mean_c);

  turf::SeedLot& lot(std::string name, std::string species);
  turf::Feed& feed(std::string name, std::optional<double> nitrogen_percent);
  turf::Fill& fill(std::string name);
  /// Says that its stock was counted after all that was recorded so far.
  void counted(course::Shelf shelf, std::string material);
  /// Bent 26-4, Ryegrass 26-1, Starter (6 % nitrogen) and Medium sand.
  void shed();

  Progress progress(std::string_view on,
                    measure::UnitSystem units = measure::UnitSystem::metric) const;
  Plan plan(std::string_view on, measure::UnitSystem units = measure::UnitSystem::metric) const;

 private:
  course::Source source();
  std::uint64_t counter_ = 0;
};

const PatchProgress& find(const Progress& progress, std::string_view patch);
const PlannedPatch& find(const Plan& plan, std::string_view patch);

/// Everything at once: what the golden files and the key checks look at.
CourseBuilder stormyCourse();

}  // namespace swardwalk::answers::test
