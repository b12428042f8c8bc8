#include "common/interchange/track_builder.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <utility>

#include "common/geo/compass.h"
#include "common/geo/local_plane.h"
#include "common/geo/walk_steps.h"

namespace swardwalk::interchange {
namespace {

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view blanks = " \t\r\n\"";
  const std::size_t begin = text.find_first_not_of(blanks);
  if (begin == std::string_view::npos) return {};
  return text.substr(begin, text.find_last_not_of(blanks) - begin + 1);
}

/// What is wrong with a position, or empty.
std::string troubleOf(const ReadPosition& position) {
  const auto& [latitude, longitude, accuracy, time] = position;
  if (!latitude || !longitude) return "latitude or longitude is not a number";
  if (!(std::abs(*latitude) <= 90.0)) {
    const bool swapped = std::abs(*longitude) <= 90.0;
    return fmt::format("latitude {} is outside -90 to 90{}", *latitude,
                       swapped ? "; are latitude and longitude swapped?" : "");
  }
  if (!(std::abs(*longitude) <= 180.0))
    return fmt::format("longitude {} is outside -180 to 180", *longitude);
  if (accuracy && !(*accuracy >= 0.0)) return "the accuracy is negative";
  return {};
}

/// Gives times as if walked at 1 m/s. A step far beyond the usual gets no more time than
/// ten usual ones, so that a wild position is still too fast to be believed.
void walkAtOneMetreASecond(std::vector<geo::Fix>& fixes) {
  constexpr double farSteps = 10.0;
  constexpr double shortest_s = 0.1;
  std::vector<double> steps_m;
  for (std::size_t i = 1; i < fixes.size(); ++i) {
    const geo::LocalPlane plane(fixes[i - 1].position);
    steps_m.push_back(geo::distance_m({}, plane.toLocal(fixes[i].position)));
  }
  if (steps_m.empty()) return;
  const double longest_m = farSteps * geo::median(steps_m);
  measure::Instant time{};
  for (std::size_t i = 1; i < fixes.size(); ++i) {
    const double step_s = std::clamp(steps_m[i - 1], shortest_s, std::max(longest_m, 1.0));
    time += std::chrono::milliseconds{std::llround(1000.0 * step_s)};
    fixes[i].time = time;
  }
}

}  // namespace

std::optional<double> numberIn(std::string_view text) {
  text = trimmed(text);
  if (text.starts_with('+')) text.remove_prefix(1);
  double value = 0.0;
  const auto [stop, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || stop != text.data() + text.size() || !std::isfinite(value))
    return std::nullopt;
  return value;
}

std::optional<measure::Instant> timeIn(std::string_view text) {
  std::string time(trimmed(text));
  if (const auto seconds = numberIn(time)) {
    constexpr double most_s = 7.3e9;  // the year 2200
    if (std::abs(*seconds) > most_s) return std::nullopt;
    return measure::Instant{std::chrono::milliseconds{std::llround(1000.0 * *seconds)}};
  }
  constexpr std::size_t dateLength = 10;
  if (time.size() > dateLength && time[dateLength] == ' ') time[dateLength] = 'T';
  const bool saysOffset =
      time.size() > dateLength && time.find_first_of("Zz+-", dateLength) != std::string::npos;
  if (!saysOffset) time += 'Z';
  const auto instant = measure::parseInstant(time);
  return instant ? std::optional(*instant) : std::nullopt;
}

void TrackBuilder::add(const ReadPosition& position, const std::string& where) {
  if (std::string trouble = troubleOf(position); !trouble.empty())
    return pass(where + ": " + trouble);
  geo::Fix fix;
  fix.position = {*position.latitude_deg, *position.longitude_deg};
  fix.accuracy_m = position.accuracy_m;
  if (position.time) fix.time = *position.time;
  (position.time ? fixes_ : untimed_).push_back(fix);
}

void TrackBuilder::add(const geo::Fix& fix) { fixes_.push_back(fix); }

void TrackBuilder::pass(std::string reason) {
  if (unreadable_++ == 0) firstReason_ = std::move(reason);
}

Result<answers::ToMeasure> TrackBuilder::build(const std::string& name) && {
  if (isFull()) {
    return fail(
        FailureKind::invalid, name,
        fmt::format("more than {} positions are no walk round a patch", geo::mostFixesOfWalk),
        "split the log into walks");
  }
  if (size() == 0) {
    return fail(FailureKind::invalid, name,
                unreadable_ > 0 ? fmt::format("none of {} positions makes sense ({})", unreadable_,
                                              firstReason_)
                                : std::string("no position is in it"),
                "look what the file holds");
  }
  answers::ToMeasure outline;
  outline.name = name;
  if (unreadable_ > 0) {
    outline.warnings.push_back(fmt::format("{} {} no sense and {} left out; the first: {}",
                                           unreadable_,
                                           unreadable_ == 1 ? "position makes" : "positions make",
                                           unreadable_ == 1 ? "is" : "are", firstReason_));
  }
  // Few without a time among many with one are the odd ones out.
  if (fixes_.size() > untimed_.size()) {
    const int untimed = static_cast<int>(untimed_.size());
    if (untimed > 0) outline.warnings.push_back(fmt::format("{} positions have no time", untimed));
    outline.what = answers::Track{std::move(fixes_), unreadable_ + untimed};
    return outline;
  }
  std::vector<geo::Fix> all = std::move(untimed_);
  all.insert(all.end(), fixes_.begin(), fixes_.end());
  const bool isWalk = all.size() >= fewestOfTrack ||
                      std::any_of(all.begin(), all.end(),
                                  [](const geo::Fix& fix) { return fix.accuracy_m.has_value(); });
  if (isWalk) {
    walkAtOneMetreASecond(all);
    outline.what = answers::Track{std::move(all), unreadable_};
    return outline;
  }
  answers::DrawnOutline drawn;
  drawn.places = static_cast<int>(all.size());
  drawn.unreadable = unreadable_;
  drawn.shape.resize(1);
  for (const geo::Fix& fix : all) drawn.shape.front().outer.push_back(fix.position);
  outline.what = std::move(drawn);
  return outline;
}

}  // namespace swardwalk::interchange
