#include <fmt/format.h>

#include <algorithm>
#include <boost/json.hpp>

#include "common/answers/json_text.h"
#include "common/answers/progress.h"
#include "common/answers/sentences.h"
#include "common/answers/text_table.h"

namespace swardwalk::answers {
namespace {

namespace json = boost::json;

json::object objectOf(const PatchProgress& patch, const measure::Zone& zone) {
  json::value lastSeen;
  if (patch.lastSeen) lastSeen = zone.write(*patch.lastSeen);
  return {{"patch", patch.patch},
          {"label", patch.label},
          {"green", textOrNull(patch.green)},
          {"kind", turf::word(patch.kind)},
          {"chapter", patch.chapter},
          {"sightings", patch.sightings},
          {"last_seen", lastSeen},
          {"area_m2", valueOf(patch.area_m2)},
          {"area_u_m2", uncertaintyOf(patch.area_m2)},
          {"model", textOrNull(patch.model)},
          {"edge_creep_mm_per_day", valueOf(patch.edgeCreep_mm_d)},
          {"edge_creep_u_mm_per_day", uncertaintyOf(patch.edgeCreep_mm_d)},
          {"share_closed", number(patch.shareClosed)},
          {"closes_on", isoOrNull(patch.closesOn)},
          {"closes_earliest", isoOrNull(patch.closesEarliest)},
          {"closes_latest", isoOrNull(patch.closesLatest)},
          {"puttable_on", isoOrNull(patch.puttableOn)},
          {"verdict", infill::word(patch.verdict)},
          {"why", patch.why}};
}

json::object objectOf(const GreenProgress& green) {
  const bool known = green.area_m2 > 0.0;
  json::array looks;
  for (const LookNext& look : green.lookNext) {
    looks.push_back({{"patch", look.patch}, {"label", look.label}, {"why", look.why}});
  }
  return {{"green", green.green},
          {"area_m2", known ? number(green.area_m2) : json::value(nullptr)},
          {"bare_m2", number(green.bare_m2.value)},
          {"bare_u_m2", number(green.bare_m2.u)},
          {"bare_share", known ? number(green.bareShare.value) : json::value(nullptr)},
          {"bare_share_u", known ? number(green.bareShare.u) : json::value(nullptr)},
          {"opening_day", isoOrNull(green.openingDay)},
          {"probability_ready", number(green.probabilityReady)},
          {"open_patches", green.openPatches},
          {"thin_share", valueOf(green.thinShare)},
          {"thin_share_u", uncertaintyOf(green.thinShare)},
          {"look_next", std::move(looks)}};
}

std::string isoOrEmpty(std::optional<measure::Date> date) {
  return date ? measure::isoDate(*date) : std::string();
}

std::optional<double> valueOnly(const std::optional<measure::Measured>& measured) {
  return measured ? std::optional(measured->value) : std::nullopt;
}

std::optional<double> doubtOnly(const std::optional<measure::Measured>& measured) {
  return measured ? measured->u : std::nullopt;
}

}  // namespace

std::string progressJson(const Progress& progress, const measure::Zone& zone) {
  json::array patches;
  for (const PatchProgress& patch : progress.patches) patches.push_back(objectOf(patch, zone));
  json::array greens;
  for (const GreenProgress& green : progress.greens) greens.push_back(objectOf(green));
  return writeJson(json::object{{"on", measure::isoDate(progress.on)},
                                {"patches", std::move(patches)},
                                {"greens", std::move(greens)},
                                {"incomplete", progress.incomplete}});
}

std::string progressText(const Progress& progress) {
  std::string out =
      progress.courseName.empty() ? std::string("Infill") : progress.courseName + ", infill";
  out += fmt::format(" on {}", progress.dateText);
  if (!progress.openingText.empty()) out += fmt::format(" ({})", progress.openingText);
  out += fmt::format("\n{}\n\n", progress.headline);

  if (!progress.greens.empty()) {
    TextTable table;
    table.words("Green");
    table.words("Answer");
    table.figures("chance");
    table.figures("bare");
    table.figures("share");
    table.figures("open");
    table.words("late");
    table.words("sown");
    for (const GreenProgress& green : progress.greens) {
      table.row();
      table.cell(green.green);
      table.cell(green.answer);
      table.cell(green.chance);
      table.cell(green.bareText);
      table.cell(green.bareShareFigures);
      table.cell(std::to_string(green.openPatches));
      table.cell(green.lateText);
      table.cell(green.sownText);
    }
    out += table.text() + "\n";
    bool more = false;
    for (const GreenProgress& green : progress.greens) {
      if (!green.thinText.empty()) out += fmt::format("{}, {}.\n", green.green, green.thinText);
      if (!green.lookNextText.empty()) {
        out += fmt::format("Look next at {}.\n", wrapped(green.lookNextText, 96, 4));
      }
      more = more || !green.thinText.empty() || !green.lookNextText.empty();
    }
    if (more) out += "\n";
  }

  std::vector<const PatchProgress*> order;
  for (const PatchProgress& patch : progress.patches) order.push_back(&patch);
  std::stable_sort(order.begin(), order.end(), [](const PatchProgress* a, const PatchProgress* b) {
    if (a->green != b->green) return a->green < b->green;
    const bool closedA = a->verdict == infill::Verdict::closed;
    const bool closedB = b->verdict == infill::Verdict::closed;
    if (closedA != closedB) return closedB;
    return naturalLess(a->label, b->label);
  });
  if (order.empty()) {
    out += "No patch was seen yet.\n";
  } else {
    TextTable table;
    table.words("Patch");
    table.words("Kind, last seen");
    table.figures("area");
    table.words("Answer");
    table.figures("closed");
    for (const PatchProgress* patch : order) {
      const bool open = patch->verdict != infill::Verdict::closed;
      table.row();
      table.cell(patch->heading);
      table.cell(patch->kindText);
      table.cell(open ? patch->area : measure::Written{});
      table.cell(patch->answer);
      table.cell(open && !patch->closedText.empty()
                     ? fmt::format("{} %", wholePercent(*patch->shareClosed))
                     : std::string());
      table.section("    " + wrapped(patch->why, 96, 4));
    }
    out += table.text();
  }
  for (const std::string& note : progress.notes) out += "\n" + note;
  if (!progress.notes.empty()) out += "\n";
  return out;
}

std::string progressCsv(const Progress& progress, const measure::Zone& zone) {
  std::string out = csvRecord(
      {"patch", "label", "green", "kind", "chapter", "sightings", "last_seen", "area_m2",
       "area_u_m2", "model", "edge_creep_mm_per_day", "edge_creep_u_mm_per_day", "share_closed",
       "closes_on", "closes_earliest", "closes_latest", "puttable_on", "verdict", "why"});
  for (const PatchProgress& patch : progress.patches) {
    out += csvRecord({patch.patch, patch.label, patch.green, std::string(turf::word(patch.kind)),
                      std::to_string(patch.chapter), std::to_string(patch.sightings),
                      patch.lastSeen ? zone.write(*patch.lastSeen) : std::string(),
                      csvNumber(valueOnly(patch.area_m2)), csvNumber(doubtOnly(patch.area_m2)),
                      patch.model, csvNumber(valueOnly(patch.edgeCreep_mm_d)),
                      csvNumber(doubtOnly(patch.edgeCreep_mm_d)), csvNumber(patch.shareClosed),
                      isoOrEmpty(patch.closesOn), isoOrEmpty(patch.closesEarliest),
                      isoOrEmpty(patch.closesLatest), isoOrEmpty(patch.puttableOn),
                      std::string(infill::word(patch.verdict)), patch.why});
  }
  return out;
}

}  // namespace swardwalk::answers
