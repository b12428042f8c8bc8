#include <fmt/format.h>

#include <boost/json.hpp>

#include "common/answers/json_text.h"
#include "common/answers/round.h"
#include "common/answers/sentences.h"
#include "common/answers/text_table.h"

namespace swardwalk::answers {

namespace json = boost::json;

std::string roundJson(const Round& round) {
  json::array stops;
  for (const RoundStop& stop : round.stops) {
    stops.push_back({{"patch", stop.patch},
                     {"label", stop.label},
                     {"green", textOrNull(stop.green)},
                     {"why", stop.why}});
  }
  return writeJson(json::object{{"on", measure::isoDate(round.on)},
                                {"stops", std::move(stops)},
                                {"walk_m", number(round.walk_m)},
                                {"incomplete", round.incomplete}});
}

std::string roundText(const Round& round) {
  std::string out = fmt::format("Look first on {}\n{}\n", longDate(round.on), round.headline);
  if (!round.stops.empty()) {
    TextTable table;
    table.figures("");
    table.words("Patch");
    table.words("Green");
    table.words("Why");
    int number = 0;
    for (const RoundStop& stop : round.stops) {
      table.row();
      table.cell(std::to_string(++number));
      table.cell(stop.heading);
      table.cell(stop.green);
      table.cell(stop.why);
    }
    out += '\n';
    out += table.text();
  }
  if (!round.notes.empty()) out += '\n';
  for (const std::string& note : round.notes) out += note + '\n';
  return out;
}

std::string roundCsv(const Round& round) {
  std::string out = csvRecord({"patch", "label", "green", "why"});
  for (const RoundStop& stop : round.stops) {
    out += csvRecord({stop.patch, stop.label, stop.green, stop.why});
  }
  return out;
}

}  // namespace swardwalk::answers
