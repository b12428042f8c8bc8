#include "common/answers/sentences.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <tuple>

namespace swardwalk::answers {
namespace {

constexpr std::array<std::string_view, 13> numberWords{"no",   "one",    "two",   "three", "four",
                                                       "five", "six",    "seven", "eight", "nine",
                                                       "ten",  "eleven", "twelve"};

bool isDigit(char c) { return std::isdigit(static_cast<unsigned char>(c)) != 0; }

char lower(char c) { return static_cast<char>(std::tolower(static_cast<unsigned char>(c))); }

bool isFar(measure::Date date, measure::Date on) { return date - on > std::chrono::days(365); }

}  // namespace

std::string count(int n) {
  if (n >= 0 && n < static_cast<int>(numberWords.size())) {
    return std::string(numberWords[static_cast<std::size_t>(n)]);
  }
  return std::to_string(n);
}

std::string counted(int n, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", count(n), n == 1 ? one : many);
}

std::string duration(int days) {
  constexpr int weeksFrom_d = 21;
  constexpr int monthsFrom_d = 120;
  if (days < weeksFrom_d) return counted(days, "day", "days");
  if (days < monthsFrom_d) return counted((days + 3) / 7, "week", "weeks");
  constexpr int yearsFrom_d = 700;
  if (days < yearsFrom_d) {
    return counted(static_cast<int>(std::lround(days / 30.44)), "month", "months");
  }
  return counted(static_cast<int>(std::lround(days / 365.25)), "year", "years");
}

std::string dateWords(measure::Date date, measure::Date on) {
  const bool otherYear =
      std::chrono::year_month_day(date).year() != std::chrono::year_month_day(on).year();
  return measure::wordsDate(date, otherYear);
}

std::string farWords(measure::Date date, measure::Date on) {
  if (!isFar(date, on)) return dateWords(date, on);
  return std::to_string(static_cast<int>(std::chrono::year_month_day(date).year()));
}

std::string onWords(measure::Date date, measure::Date on) {
  return fmt::format("{} {}", isFar(date, on) ? "in" : "on", farWords(date, on));
}

std::string byWords(measure::Date date, measure::Date on) {
  return fmt::format("{} {}", isFar(date, on) ? "in" : "by", farWords(date, on));
}

std::string longDate(measure::Date date) {
  constexpr std::array<std::string_view, 7> names{"Sunday",   "Monday", "Tuesday", "Wednesday",
                                                  "Thursday", "Friday", "Saturday"};
  return fmt::format("{} {}", names[std::chrono::weekday(date).c_encoding()],
                     measure::wordsDate(date, true));
}

int wholePercent(double share) { return static_cast<int>(std::lround(100.0 * share)); }

std::string listed(const std::vector<std::string>& words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += i + 1 == words.size() ? " and " : ", ";
    text += words[i];
  }
  return text;
}

std::string capital(std::string text) {
  if (!text.empty()) {
    text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
  }
  return text;
}

std::string headingOf(std::string_view label, std::string_view green) {
  const auto firstDigit = std::find_if(label.begin(), label.end(), isDigit);
  const auto letters = static_cast<std::size_t>(firstDigit - label.begin());
  const bool begins = letters > 0 && letters <= green.size() && firstDigit != label.end() &&
                      std::equal(label.begin(), firstDigit, green.begin(),
                                 [](char a, char b) { return lower(a) == lower(b); });
  if (!begins) return std::string(label);
  return fmt::format("{} {}", green, label.substr(letters));
}

bool naturalLess(std::string_view a, std::string_view b) {
  std::size_t i = 0;
  std::size_t j = 0;
  while (i < a.size() && j < b.size()) {
    if (isDigit(a[i]) && isDigit(b[j])) {
      while (i < a.size() && a[i] == '0') ++i;
      while (j < b.size() && b[j] == '0') ++j;
      const std::size_t beginA = i;
      const std::size_t beginB = j;
      while (i < a.size() && isDigit(a[i])) ++i;
      while (j < b.size() && isDigit(b[j])) ++j;
      const std::string_view runA = a.substr(beginA, i - beginA);
      const std::string_view runB = b.substr(beginB, j - beginB);
      if (runA.size() != runB.size()) return runA.size() < runB.size();
      if (runA != runB) return runA < runB;
    } else {
      if (a[i] != b[j]) return a[i] < b[j];
      ++i;
      ++j;
    }
  }
  if (a.size() - i != b.size() - j) return a.size() - i < b.size() - j;
  return a < b;
}

}  // namespace swardwalk::answers
