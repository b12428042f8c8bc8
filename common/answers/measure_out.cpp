#include <fmt/format.h>

#include <boost/json.hpp>

#include "common/answers/json_text.h"
#include "common/answers/measure.h"
#include "common/answers/text_table.h"

namespace swardwalk::answers {
namespace {

namespace json = boost::json;

measure::Written lengthText(const measure::Measured& length_m, measure::UnitSystem units) {
  return measure::write(length_m, measure::Quantity::length, units);
}

}  // namespace

std::string measureJson(std::span<const MeasuredOutline> outlines) {
  json::array list;
  for (const MeasuredOutline& outline : outlines) {
    list.push_back(
        json::object{{"name", outline.name},
                     {"area_m2", number(outline.area_m2.value)},
                     {"area_u_m2", number(outline.area_m2.u)},
                     {"perimeter_m", number(outline.perimeter_m.value)},
                     {"perimeter_u_m", number(outline.perimeter_m.u)},
                     {"fixes_used", outline.fixesUsed},
                     {"fixes_dropped", outline.fixesDropped},
                     {"closed_gap_m", number(outline.closedGap_m)},
                     {"warnings", json::array(outline.warnings.begin(), outline.warnings.end())}});
  }
  return writeJson(json::object{{"outlines", std::move(list)}});
}

std::string measureText(std::span<const MeasuredOutline> outlines, measure::UnitSystem units) {
  TextTable table;
  table.words("Outline");
  table.figures("area");
  table.figures("perimeter");
  table.figures("used");
  table.figures("dropped");
  table.figures("gap");
  for (const MeasuredOutline& outline : outlines) {
    const bool isWalk = outline.fixesUsed + outline.fixesDropped > 0;
    table.row();
    table.cell(outline.name);
    table.cell(measure::write(outline.area_m2, measure::Quantity::area, units));
    table.cell(lengthText(outline.perimeter_m, units));
    table.cell(isWalk ? std::to_string(outline.fixesUsed) : std::string());
    table.cell(isWalk ? std::to_string(outline.fixesDropped) : std::string());
    table.cell(isWalk ? lengthText({outline.closedGap_m, std::nullopt}, units)
                      : measure::Written{});
    for (const std::string& warning : outline.warnings) {
      table.section("    " + wrapped(warning + ".", 96, 4));
    }
  }
  return table.text();
}

std::string measureCsv(std::span<const MeasuredOutline> outlines) {
  std::string out = csvRecord({"name", "area_m2", "area_u_m2", "perimeter_m", "perimeter_u_m",
                               "fixes_used", "fixes_dropped", "closed_gap_m", "warnings"});
  for (const MeasuredOutline& outline : outlines) {
    out += csvRecord({outline.name, csvNumber(outline.area_m2.value), csvNumber(outline.area_m2.u),
                      csvNumber(outline.perimeter_m.value), csvNumber(outline.perimeter_m.u),
                      std::to_string(outline.fixesUsed), std::to_string(outline.fixesDropped),
                      csvNumber(outline.closedGap_m),
                      fmt::format("{}", fmt::join(outline.warnings, "; "))});
  }
  return out;
}

}  // namespace swardwalk::answers
