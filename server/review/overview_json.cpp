#include <fmt/format.h>

#include <array>
#include <boost/json.hpp>

#include "server/review/page_json.h"
#include "server/review/rain.h"
#include "server/review/rounds.h"
#include "server/review/words.h"

namespace swardwalk::server::review {
namespace {

namespace json = boost::json;

constexpr std::size_t headlineSymbols = 3;

/// Open patches of a green by kind: [{"symbol", "word", "count"}].
json::array kindsJson(const CourseAnswers& all, std::string_view green) {
  json::array kinds;
  for (const turf::Kind kind :
       {turf::Kind::bare, turf::Kind::hungry, turf::Kind::dug, turf::Kind::washed}) {
    int count = 0;
    for (const auto& patch : all.progress.patches) {
      count += patch.green == green && patch.kind == kind && patch.look != answers::Look::closed;
    }
    if (count == 0) continue;
    kinds.push_back(
        json::object{{"symbol", symbolJson(kind, answers::Look::open, false, std::nullopt)},
                     {"word", text(turf::word(kind))},
                     {"count", fmt::format("{}", count)}});
  }
  return kinds;
}

/// The most urgent thing with one big action.
json::object urgentJson(const CourseAnswers& all) {
  json::array symbols;
  json::object urgent{{"sentence", all.progress.headline},
                      {"weight", text(word(all.progress.headlineWeight))},
                      {"second", ""},
                      {"action", nullptr}};
  const auto greens = endangeredFirst(all);
  if (!greens.empty()) {
    const answers::GreenProgress& first = *greens.front();
    for (const auto* patch : urgentFirst(all, first.green)) {
      if (!patch->late || symbols.size() == headlineSymbols) break;
      symbols.push_back(
          json::object{{"symbol", symbolJson(*patch)}, {"label", patch->label}});
    }
    if (!first.chance.empty()) {
      urgent["second"] = fmt::format("{}: {} {}.", first.green, first.chance, first.chanceOf);
    }
    if (first.openPatches > 0) {
      urgent["action"] = json::object{{"text", fmt::format("Open {}’s repairs", first.green)},
                                      {"green", first.green}};
    }
  }
  urgent["patches"] = std::move(symbols);
  return urgent;
}

}  // namespace

std::string overviewJson(const CourseAnswers& all) {
  json::array greens;
  for (const auto* green : endangeredFirst(all)) {
    json::object card = greenHeadJson(*green);
    card["kinds"] = kindsJson(all, green->green);
    greens.push_back(std::move(card));
  }
  json::object page{{"top", topJson(all)},
                    {"urgent", urgentJson(all)},
                    {"greens", std::move(greens)},
                    {"rain", rainJson(all)},
                    {"walks", walksJson(all)},
                    {"news", newsJson(all)}};
  return json::serialize(page);
}

}  // namespace swardwalk::server::review
