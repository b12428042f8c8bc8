#pragma once

#include <boost/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "server/shed/shed.h"

/// Pieces that several pages share.
namespace swardwalk::server::review {

boost::json::string text(std::string_view view);

/// {"figure", "doubt", "unit"}; null where there is no figure.
boost::json::value writtenJson(const measure::Written& written);

std::string_view word(answers::Weight weight);
std::string_view word(answers::Look look);
std::string_view letter(turf::Kind kind);

/// How a patch is drawn: {"kind", "letter", "look", "late", "share_closed"}.
boost::json::object symbolJson(turf::Kind kind, answers::Look look, bool late,
                               std::optional<double> shareClosed);
boost::json::object symbolJson(const answers::PatchProgress& patch);

/// What stands on top of every page: {"version", "course", "day", "opening",
/// "incomplete", "greens"}.
boost::json::object topJson(const CourseAnswers& all);

/// "Monday 12 April".
std::string dayWords(measure::Date date, bool withYear);
/// "today, 06:40", "yesterday, 16:10", "Sunday 4 April".
std::string momentWords(const CourseAnswers& all, measure::Instant instant);

/// "one day", "5 days".
std::string counted(long count, std::string_view one, std::string_view many);

/// Patches of a green with the late ones first, then by what wants a person's eye, then
/// as they came; closed ones last.
std::vector<const answers::PatchProgress*> urgentFirst(const CourseAnswers& all,
                                                       std::string_view green);

/// Greens with the most endangered first.
std::vector<const answers::GreenProgress*> endangeredFirst(const CourseAnswers& all);

/// The card of a green on the overview, and the head of its own page.
boost::json::object greenHeadJson(const answers::GreenProgress& green);

/// "H5 and H8", "N1, N2 and N3"; more than five end in "and 4 more".
std::string listed(const std::vector<std::string>& labels);

}  // namespace swardwalk::server::review
