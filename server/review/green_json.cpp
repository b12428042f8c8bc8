#include <fmt/format.h>

#include <boost/json.hpp>

#include "common/answers/patch_life.h"
#include "server/review/page_json.h"
#include "server/review/plan_json.h"
#include "server/review/words.h"

namespace swardwalk::server::review {
namespace {

namespace json = boost::json;

/// As wide as a phone shows it, so that its letters are never smaller than the page's.
constexpr int chartWidth = 360;
constexpr int chartHeight = 220;

const answers::GreenProgress* greenNamed(const CourseAnswers& all, std::string_view name) {
  for (const auto& green : all.progress.greens) {
    if (green.green == name) return &green;
  }
  return nullptr;
}

const answers::PlannedPatch* plannedFor(const CourseAnswers& all, std::string_view patch) {
  for (const auto& planned : all.plan.patches) {
    if (planned.patch == patch) return &planned;
  }
  return nullptr;
}

json::object rowJson(const answers::PatchProgress& patch) {
  return {{"patch", patch.patch},
          {"label", patch.label},
          {"heading", patch.heading},
          {"kind", text(turf::word(patch.kind))},
          {"symbol", symbolJson(patch)},
          {"answer", patch.answer},
          {"weight", text(word(patch.weight))},
          {"second", patch.note},
          {"area", writtenJson(patch.area)},
          {"share", patch.closedText},
          {"closed", patch.look == answers::Look::closed}};
}

/// "9 open, 2 late".
std::string openWords(int open, int late) {
  if (open == 0) return "Nothing open";
  return late > 0 ? fmt::format("{} open, {} late", open, late) : fmt::format("{} open", open);
}

}  // namespace

std::string greenJson(const CourseAnswers& all, std::string_view name) {
  const answers::GreenProgress* green = greenNamed(all, name);
  const auto patches = urgentFirst(all, name);
  if (!green && (patches.empty() || !name.empty())) return {};

  int open = 0;
  int late = 0;
  json::array rows;
  for (const auto* patch : patches) {
    const bool isOpen = patch->look != answers::Look::closed;
    open += isOpen ? 1 : 0;
    late += isOpen && patch->late ? 1 : 0;
    rows.push_back(rowJson(*patch));
  }
  json::object page{{"top", topJson(all)},
                    {"title", name.empty() ? json::string("On no green") : text(name)},
                    {"head", nullptr},
                    {"plan", planJson(all, name)},
                    {"open", openWords(open, late)},
                    {"order", late > 0 ? "Late first." : "What wants you first."},
                    {"patches", std::move(rows)}};
  if (green) page["head"] = greenHeadJson(*green);
  return json::serialize(page);
}

std::string patchJson(const CourseAnswers& all, std::string_view patch) {
  const auto life = answers::patchLife(all.state, all.progress, patch, measure::UnitSystem::metric);
  if (!life) return {};
  json::array lines;
  for (const answers::LifeLine& line : life->lines) {
    const std::string what = line.who.empty() ? line.what : line.who + ": " + line.what;
    lines.push_back(json::object{{"date", line.date},
                                 {"what", what},
                                 {"amount", writtenJson(line.amount)},
                                 {"note", line.note},
                                 {"weight", text(word(line.weight))}});
  }
  json::array photos;
  for (const answers::PhotoLine& photo : life->photos) {
    photos.push_back(json::object{{"address", "/photo/" + journal::hex(photo.photo)},
                                  {"small", "/photo/" + journal::hex(photo.small)},
                                  {"text", photo.text}});
  }
  const answers::PatchProgress& progress = life->progress;
  json::object page = rowJson(progress);
  page["top"] = topJson(all);
  page["green"] = progress.green;
  page["chapter"] = progress.chapter > 1 ? fmt::format("chapter {}", progress.chapter) : "";
  page["why"] = progress.why;
  answers::Chart chart = life->chart;
  chart.width = chartWidth;
  chart.height = chartHeight;
  page["chart"] = answers::svg(chart);
  page["life"] = std::move(lines);
  page["photos"] = std::move(photos);
  page["repair"] = nullptr;
  if (const auto* planned = plannedFor(all, patch)) {
    page["repair"] = json::object{{"choice", planned->choiceText},
                                  {"reason", planned->reason},
                                  {"action", fmt::format("See {}’s repair", progress.label)}};
  }
  return json::serialize(page);
}

}  // namespace swardwalk::server::review
