#include <fmt/format.h>

#include <algorithm>
#include <boost/json.hpp>

#include "common/answers/green_chart.h"
#include "server/review/page_json.h"
#include "server/review/rain.h"
#include "server/review/rounds.h"
#include "server/review/words.h"

namespace swardwalk::server::review {
namespace {

namespace json = boost::json;

constexpr std::size_t headlineSymbols = 3;

/// Open patches of a green by kind: [{"symbol", "word", "count"}].
json::array kindsJson(const answers::GreenProgress& green) {
  json::array kinds;
  for (std::size_t i = 0; i < answers::allKinds.size(); ++i) {
    if (green.openByKind[i] == 0) continue;
    const turf::Kind kind = answers::allKinds[i];
    kinds.push_back(
        json::object{{"symbol", symbolJson(kind, answers::Look::open, false, std::nullopt)},
                     {"word", text(turf::word(kind))},
                     {"count", fmt::format("{}", green.openByKind[i])}});
  }
  return kinds;
}

/// What a patch may be urgent for, in the order of the headline.
int urgency(const answers::PatchProgress& patch) {
  if (patch.look == answers::Look::closed) return 4;
  if (patch.sowing == repair::SowingState::washedOut) return 0;
  if (patch.verdict == infill::Verdict::growing) return 1;
  return patch.late ? 2 : 3;
}

/// Patches of the green that the headline is about: those that are urgent for one reason.
json::array urgentPatches(const CourseAnswers& all, std::string_view green) {
  int first = 3;
  for (const auto& patch : all.progress.patches) {
    if (patch.green == green) first = std::min(first, urgency(patch));
  }
  json::array symbols;
  for (const auto& patch : all.progress.patches) {
    if (patch.green != green || first == 3 || urgency(patch) != first) continue;
    if (symbols.size() == headlineSymbols) break;
    symbols.push_back(json::object{{"symbol", symbolJson(patch)}, {"label", patch.label}});
  }
  return symbols;
}

/// The most urgent thing with one big action.
json::object urgentJson(const CourseAnswers& all) {
  json::object urgent{{"sentence", all.progress.headline},
                      {"weight", text(word(all.progress.headlineWeight))},
                      {"second", ""},
                      {"patches", json::array()},
                      {"action", nullptr}};
  const auto& greens = all.progress.greens;
  const auto green = std::find_if(greens.begin(), greens.end(), [&](const auto& one) {
    return one.green == all.progress.headlineGreen;
  });
  if (green == greens.end()) return urgent;
  urgent["patches"] = urgentPatches(all, green->green);
  if (!green->chance.empty() && green->openingDay) {
    urgent["second"] = fmt::format("{} is ready on {} in {} of cases.", green->green,
                                   measure::wordsDate(*green->openingDay), green->chance);
  }
  if (green->openPatches > 0) {
    urgent["action"] = json::object{{"text", fmt::format("Open {}’s repairs", green->green)},
                                    {"green", green->green}};
  }
  return urgent;
}

/// The way through them is the tablet's; here they are read.
json::object roundJson(const CourseAnswers& all) {
  json::array stops;
  for (const answers::RoundStop& stop : all.round.stops) {
    stops.push_back(json::object{{"patch", stop.patch},
                                 {"label", stop.label},
                                 {"green", stop.green},
                                 {"why", stop.why},
                                 {"weight", text(word(stop.weight))}});
  }
  return {{"headline", all.round.headline}, {"stops", std::move(stops)}};
}

}  // namespace

std::string overviewJson(const CourseAnswers& all) {
  json::array greens;
  for (const auto* green : endangeredFirst(all)) {
    json::object card = greenHeadJson(*green);
    const auto chart = answers::greenChart(all.state, all.progress, green->green);
    card["chart"] = chart ? answers::svg(*chart) : "";
    card["kinds"] = kindsJson(*green);
    greens.push_back(std::move(card));
  }
  json::object page{{"top", topJson(all)},         {"urgent", urgentJson(all)},
                    {"greens", std::move(greens)}, {"rain", rainJson(all)},
                    {"walks", walksJson(all)},     {"news", newsJson(all)},
                    {"round", roundJson(all)}};
  return json::serialize(page);
}

}  // namespace swardwalk::server::review
