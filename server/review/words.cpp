#include "server/review/words.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "common/answers/urgency.h"

namespace swardwalk::server::review {

namespace json = boost::json;

json::string text(std::string_view view) { return json::string(view.data(), view.size()); }

json::value writtenJson(const measure::Written& written) {
  if (written.figure.empty()) return nullptr;
  return json::object{{"figure", written.figure}, {"doubt", written.doubt}, {"unit", written.unit}};
}

std::string_view word(answers::Weight weight) {
  switch (weight) {
    case answers::Weight::good:
      return "good";
    case answers::Weight::watch:
      return "watch";
    case answers::Weight::stop:
      return "stop";
    case answers::Weight::calm:
      break;
  }
  return "calm";
}

std::string_view word(answers::Look look) {
  switch (look) {
    case answers::Look::closing:
      return "closing";
    case answers::Look::sownWaiting:
      return "sown";
    case answers::Look::up:
      return "up";
    case answers::Look::closed:
      return "closed";
    case answers::Look::open:
      break;
  }
  return "open";
}

std::string_view letter(turf::Kind kind) {
  switch (kind) {
    case turf::Kind::hungry:
      return "H";
    case turf::Kind::dug:
      return "D";
    case turf::Kind::washed:
      return "W";
    case turf::Kind::bare:
      break;
  }
  return "B";
}

json::object symbolJson(turf::Kind kind, answers::Look look, bool late,
                        std::optional<double> shareClosed) {
  json::object symbol{{"kind", text(turf::word(kind))},
                      {"letter", text(letter(kind))},
                      {"look", text(word(look))},
                      {"late", late && look != answers::Look::closed},
                      {"share_closed", nullptr}};
  // Hungry patches don't close by their edge: they have no ring.
  if (shareClosed && look == answers::Look::closing && kind != turf::Kind::hungry) {
    symbol["share_closed"] = *shareClosed;
  }
  return symbol;
}

json::object symbolJson(const answers::PatchProgress& patch) {
  return symbolJson(patch.kind, patch.look, patch.late, patch.shareClosed);
}

json::object topJson(const CourseAnswers& all) {
  std::string incomplete;
  if (all.progress.incomplete) {
    std::uint64_t records = 0;
    for (const auto& made : all.state.madeByNewer) records += made.records;
    incomplete = fmt::format(
        "Incomplete: {} made by a newer version of Swardwalk. They are kept; bring this "
        "server up to date to see them.",
        counted(static_cast<long>(records), "record was", "records were"));
  }
  json::array greens;
  for (const auto* green : endangeredFirst(all)) greens.push_back(text(green->green));
  const bool elsewhere = std::any_of(all.progress.patches.begin(), all.progress.patches.end(),
                                     [](const auto& patch) { return patch.green.empty(); });
  if (elsewhere) greens.push_back("");
  return {{"version", fmt::format("{}-{}", all.changeCount, measure::isoDate(all.progress.on))},
          {"course", all.progress.courseName.empty() ? "Swardwalk" : all.progress.courseName},
          {"day", all.progress.dateText},
          {"short_day", measure::wordsDate(all.progress.on)},
          {"opening", all.progress.openingText},
          {"incomplete", incomplete},
          {"greens", std::move(greens)}};
}

std::string dayWords(measure::Date date, bool withYear) {
  static constexpr std::array<const char*, 7> names{"Sunday",   "Monday", "Tuesday", "Wednesday",
                                                    "Thursday", "Friday", "Saturday"};
  const std::chrono::weekday weekday(date);
  return fmt::format("{} {}", names[weekday.c_encoding()], measure::wordsDate(date, withYear));
}

std::string momentWords(const CourseAnswers& all, measure::Instant instant) {
  const measure::Date date = all.zone.dateOf(instant);
  const auto ago = (all.progress.on - date).count();
  if (ago == 0) return "today, " + all.zone.clockTime(instant);
  if (ago == 1) return "yesterday, " + all.zone.clockTime(instant);
  return dayWords(date, ago > 300);
}

std::string counted(long count, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

std::vector<const answers::PatchProgress*> urgentFirst(const CourseAnswers& all,
                                                       std::string_view green) {
  std::vector<const answers::PatchProgress*> patches;
  for (const auto& patch : all.progress.patches) {
    if (patch.green == green) patches.push_back(&patch);
  }
  std::stable_sort(patches.begin(), patches.end(),
                   [](auto* a, auto* b) { return answers::urgency(*a) < answers::urgency(*b); });
  return patches;
}

std::vector<const answers::GreenProgress*> endangeredFirst(const CourseAnswers& all) {
  std::vector<const answers::GreenProgress*> greens;
  for (const auto& green : all.progress.greens) greens.push_back(&green);
  std::stable_sort(greens.begin(), greens.end(), [](auto* a, auto* b) {
    return a->probabilityReady.value_or(2.0) < b->probabilityReady.value_or(2.0);
  });
  return greens;
}

json::object greenHeadJson(const answers::GreenProgress& green) {
  return {{"green", green.green},
          {"area", writtenJson(green.areaText)},
          {"species", green.speciesText},
          {"answer", green.answer},
          {"weight", text(word(green.weight))},
          {"chance", green.chance},
          {"chance_of", green.chanceOf},
          {"ready", green.readyText},
          {"bare_share", writtenJson(green.bareShareFigures)},
          {"bare", writtenJson(green.bareText)},
          {"open", green.openText},
          {"late", green.lateText},
          {"late_weight", text(word(green.lateWeight))},
          {"sown", green.sownText},
          {"sown_weight", text(word(green.sownWeight))},
          {"look_next", green.lookNextText}};
}

std::string listed(const std::vector<std::string>& labels) {
  constexpr std::size_t shown = 5;
  std::string words;
  const std::size_t count = std::min(labels.size(), shown);
  for (std::size_t i = 0; i < count; ++i) {
    const bool last = i + 1 == labels.size();
    if (i > 0) words += last ? " and " : ", ";
    words += labels[i];
  }
  if (labels.size() > shown) words += fmt::format(" and {} more", labels.size() - shown);
  return words;
}

}  // namespace swardwalk::server::review
