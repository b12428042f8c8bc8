#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "common/measure/instant.h"

/// The words that answers are made of: counts up to twelve in words, dates as people say
/// them, chances in whole per cent.
namespace swardwalk::answers {

/// "five", "13".
std::string count(int n);
/// "one day", "five days", "13 days".
std::string counted(int n, std::string_view one, std::string_view many);
/// "five days", "seven weeks", "eight months": the unit that a person would say.
std::string duration(int days);

/// "20 May", with the year where it is not that of `on`.
std::string dateWords(measure::Date date, measure::Date on);
/// "on 20 May"; "in 2034" for what lies more than a year ahead, where a day would claim
/// more than anybody knows.
std::string onWords(measure::Date date, measure::Date on);
/// "by 20 May", "in 2034".
std::string byWords(measure::Date date, measure::Date on);
/// "20 May", "2034".
std::string farWords(measure::Date date, measure::Date on);
/// "Monday 12 April 2027".
std::string longDate(measure::Date date);

/// The nearest whole per cent of a share, 0..1.
int wholePercent(double share);

/// "a", "a and b", "a, b and c".
std::string listed(const std::vector<std::string>& words);
/// First letter large.
std::string capital(std::string text);

/// "North 7" from the label "N7" on green North; the label itself where it is not of
/// this form (letters that begin the green's name, then a number).
std::string headingOf(std::string_view label, std::string_view green);
/// "N2" before "N10": runs of digits compare as numbers.
bool naturalLess(std::string_view a, std::string_view b);

}  // namespace swardwalk::answers
