#pragma once

#include <array>
#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "common/geo/position.h"
#include "common/geo/standing.h"
#include "common/geo/tape.h"
#include "common/journal/record.h"
#include "common/measure/instant.h"
#include "common/measure/measured.h"
#include "common/turf/kind.h"
#include "common/turf/materials.h"

/// What the records of a course say, one struct a record type. Values are as they
/// were entered (Q2); everything computed from them is computed when asked for.
namespace swardwalk::course {

/// Which record a thing comes from, and where it stands in the order of edits: the
/// later counter, then the origin, then the number, decides (device clocks never do).
struct Source {
  std::uint64_t counter = 0;
  journal::OriginKey origin{};
  std::uint64_t number = 0;
  journal::Digest digest{};
  std::string author;  ///< a name, or empty
  std::string device;
  std::string note;

  auto order() const { return std::tie(counter, origin, number, digest); }
};

enum class Stage { growIn, mature };
enum class Zone { green, collar, apron, bank };

/// "collar".
constexpr std::string_view word(Zone zone) {
  constexpr std::array<std::string_view, 4> words = {"green", "collar", "apron", "bank"};
  return words[static_cast<std::size_t>(zone)];
}

struct CourseInfo {
  Source source;
  std::string name;
  std::string timeZone = "UTC";
  std::optional<measure::Date> openingDay;
  double bareShareLimit = 0.02;
  double wantedProbability = 0.8;
  Stage stage = Stage::growIn;
  std::optional<double> cartLimit_kg;
  std::map<std::string, double> settings;  ///< defaults of the trade that the course changes
};

struct Green {
  Source source;
  std::string name;
  geo::GlobeShape shape;
  std::vector<std::string> species;  ///< trade names; empty: unknown
  std::optional<measure::Date> openingDay;
  std::optional<double> bareShareLimit;
  std::optional<Stage> stage;
};

struct Surround {
  Source source;
  std::string green;
  Zone zone = Zone::collar;
  geo::GlobeShape shape;
  std::vector<std::string> species;
  std::optional<double> slope_percent;
};

struct Mark {
  Source source;
  std::string name;
  geo::Position position;
  std::optional<double> accuracy_m;
  std::vector<geo::Visit> visits;  ///< what its place is the mean of, where it was stood on
};

/// What a receiver said before its error, found on a mark, was taken off.
struct CorrectedReading {
  std::string mark;
  measure::Instant found;  ///< when
  double east_m = 0.0;     ///< the error found
  double north_m = 0.0;
  double share = 0.0;  ///< of it that was taken off
  geo::Position said;
  double said_u_m = 0.0;
};

struct TapeReading {
  std::string mark;
  double distance_m = 0.0;
};

/// A size by length and width.
struct TapeSize {
  geo::TapeForm form = geo::TapeForm::ellipse;
  double length_m = 0.0;
  double width_m = 0.0;
};

/// A length and a width in paces, as counted, with the pace of who counted.
struct PacedSize {
  double length_paces = 0.0;
  double width_paces = 0.0;
  measure::Measured pace_m;
};

/// A size by counting frame.
struct FrameCount {
  int squaresBare = 0;
  int squares = 0;
  double frame_m2 = 0.0;
};

struct Sighting {
  Source source;
  std::string patch;
  std::string label;
  turf::Kind kind = turf::Kind::bare;
  measure::Instant seen;
  std::string green;        ///< as entered; empty: by position
  geo::GlobeShape outline;  ///< empty: a point or nothing
  /// How well each corner of an outline that was drawn on a plan was placed; else empty.
  std::vector<double> corners_u_m;
  std::optional<geo::Position> point;
  std::optional<measure::Measured> area_m2;  ///< as entered; u absent where not given
  std::optional<TapeSize> tape;
  std::optional<PacedSize> paces;  ///< what `tape` was worked out from, where it was paced
  std::optional<FrameCount> frame;
  double edge_u_m = geo::defaultEdge_u_m;
  std::vector<TapeReading> tapes;
  std::optional<CorrectedReading> corrected;
  std::optional<double> accuracy_m;
  std::vector<double> depths_mm;
  std::optional<double> bareShare;
  std::optional<double> bareShare_u;  ///< absent: not said, and taken as none
  std::optional<double> sandLying_mm;
};

struct Frame {
  Source source;
  std::string green;
  measure::Instant seen;
  int squaresBare = 0;
  int squares = 0;
  std::optional<geo::Position> point;  ///< where it lay
};

struct Closed {
  Source source;
  std::string patch;
  measure::Instant seen;
};

struct Repair {
  Source source;
  std::string patch;  ///< or `green`
  std::string green;
  measure::Instant done;
  bool rakedBack = false;
  std::string fill;
  std::optional<double> fill_l;
  std::string seedLot;
  std::optional<double> seed_g;
  std::string feed;
  std::optional<double> feed_g;
  std::string turf;  ///< which; empty: not said
  std::optional<double> turf_m2;
};

enum class Shelf { seedLot, feed, fill, turf };

/// That somebody counted what is in stock of a material.
struct StockCount {
  Source source;
  Shelf shelf = Shelf::seedLot;
  std::string material;
  std::optional<measure::Instant> counted;  ///< absent: when it was recorded
};

struct CameUp {
  Source source;
  std::string patch;
  measure::Instant seen;
  std::optional<double> share;
};

struct Choice {
  Source source;
  std::string patch;
  std::string choice;  ///< one of the plan's choices
  std::string why;
  std::string who = {};  ///< is to do it; empty: nobody named
};

/// A picture of a patch. Its bytes travel beside the records, under their digest.
struct Photo {
  Source source;
  std::string patch;
  measure::Instant seen;
  journal::Digest photo{};
  std::optional<journal::Digest> small;  ///< the same, small enough for a list
};

/// Rain or watering over a day (`from` to `to` is then that day) or a span.
struct Water {
  Source source;
  measure::Instant from;
  measure::Instant to;
  double amount_mm = 0.0;
  std::optional<double> peak_mm_h;
};

struct Temperature {
  Source source;
  measure::Date on;
  double min_c = 0.0;
  double max_c = 0.0;
};

struct Mowing {
  Source source;
  std::string green;
  measure::Instant done;
  std::optional<double> height_mm;
  std::optional<int> passes;
  std::optional<double> direction_deg;
  std::optional<double> clippings_l;
  bool wet = false;
};

struct Feeding {
  Source source;
  std::string green;
  measure::Instant done;
  std::string feed;
  std::optional<double> product_kg;
  std::optional<double> rate_g_m2;
};

/// One walk over a green.
struct Round {
  Source source;
  std::string green;
  measure::Instant started;
  std::optional<measure::Instant> ended;
  geo::GlobeRing track;  ///< where the walker was, in order; not closed
};

/// Two patch identities that are one patch, as somebody decided (X4).
struct Join {
  Source source;
  std::string patch;
  std::string sameAs;
};

}  // namespace swardwalk::course
