#include <fmt/format.h>

#include <algorithm>
#include <boost/json.hpp>

#include "common/answers/choosing.h"
#include "common/answers/sentences.h"
#include "server/review/page_json.h"
#include "server/review/words.h"

namespace swardwalk::server::review {
namespace {

namespace json = boost::json;

json::array textsJson(const std::vector<std::string>& texts) {
  json::array array;
  for (const std::string& one : texts) array.push_back(text(one));
  return array;
}

json::array optionsJson(const answers::PlannedPatch& patch) {
  json::array options;
  for (const answers::ChoiceCard& card : answers::choiceCards(patch)) {
    options.push_back(json::object{{"choice", card.title},
                                   {"word", repair::word(card.choice)},
                                   {"lines", textsJson(card.lines)},
                                   {"possible", card.possible},
                                   {"advised", card.advised},
                                   {"chosen", card.chosen}});
  }
  return options;
}

json::object rowJson(const answers::PlannedPatch& patch) {
  return {{"patch", patch.patch},
          {"label", patch.label},
          {"heading", patch.heading},
          {"symbol", symbolJson(patch.kind, patch.look, false, std::nullopt)},
          {"late", patch.late},
          {"weight", text(word(patch.weight))},
          {"choice", patch.choiceText},
          {"chosen_by", patch.chosenByPerson ? "chosen by " + patch.chosenBy : patch.chosenBy},
          {"covered", patch.coveredText},
          {"reason", patch.reason},
          {"seed", writtenJson(patch.seedText)},
          {"seed_lot", patch.seedLot},
          {"fill", writtenJson(patch.fillText)},
          {"fill_name", patch.fill},
          {"feed", writtenJson(patch.feedText)},
          {"feed_name", patch.feed},
          {"turf", writtenJson(patch.turfText)},
          {"turf_name", patch.turf},
          {"options", optionsJson(patch)},
          {"by_person", patch.chosenByPerson},
          {"who", patch.who},
          {"why", patch.why},
          {"tasks", textsJson(patch.tasks)},
          {"warnings", textsJson(patch.warnings)}};
}

/// Greens in the order of the overview, each with what is to be done there.
json::array greensJson(const CourseAnswers& all) {
  std::vector<std::string> names;
  for (const auto* green : endangeredFirst(all)) names.push_back(green->green);
  names.emplace_back();  // patches on no green
  json::array greens;
  for (const std::string& name : names) {
    const auto& lines = all.plan.greens;
    const auto line = std::find_if(lines.begin(), lines.end(),
                                   [&](const auto& one) { return one.green == name; });
    if (line == lines.end()) continue;
    json::array todo;
    json::array left;
    for (const answers::PlannedPatch& patch : all.plan.patches) {
      if (patch.green == name) (patch.toDo ? todo : left).push_back(rowJson(patch));
    }
    greens.push_back(json::object{{"green", name},
                                  {"title", name.empty() ? "On no green" : name},
                                  {"words", line->text},
                                  {"left_words", fmt::format("{} left alone", line->alone)},
                                  {"todo", std::move(todo)},
                                  {"left", std::move(left)}});
  }
  return greens;
}

/// What a column's amounts are in: of the first that has a unit.
std::string unitOf(const CourseAnswers& all, measure::Written answers::PlannedPatch::*text) {
  for (const auto& patch : all.plan.patches) {
    if (!(patch.*text).figure.empty()) return (patch.*text).unit;
  }
  return {};
}

json::array totalsJson(const CourseAnswers& all) {
  json::array totals;
  const auto add = [&](const answers::MaterialTotal& total, std::string_view green) {
    totals.push_back(json::object{
        {"green", text(green)}, {"material", total.material}, {"amount", writtenJson(total.text)}});
  };
  for (const auto& total : all.plan.totals) {
    add(total, total.green.empty() ? "On no green" : total.green);
  }
  for (const auto& total : all.plan.all) add(total, "All");
  return totals;
}

json::array orderJson(const CourseAnswers& all) {
  json::array order;
  for (const answers::OrderLine& line : all.plan.order) {
    order.push_back(json::object{{"material", line.material},
                                 {"stock", line.stockText},
                                 {"needed", writtenJson(line.neededText)},
                                 {"text", line.text},
                                 {"left_over", line.leftOverText},
                                 {"to_order", line.toOrder}});
  }
  return order;
}

json::array nitrogenJson(const CourseAnswers& all) {
  json::array greens;
  for (const answers::GreenNitrogen& nitrogen : all.plan.nitrogen) {
    json::array warnings;
    for (const std::string& warning : nitrogen.warnings) {
      warnings.push_back(text(answers::capital(warning) + "."));
    }
    greens.push_back(json::object{{"green", nitrogen.green},
                                  {"text", nitrogen.text},
                                  {"warnings", std::move(warnings)},
                                  {"feeding", nitrogen.feeding},
                                  {"hungry", textsJson(nitrogen.hungry)}});
  }
  return greens;
}

json::array loadsJson(const CourseAnswers& all) {
  json::array loads;
  for (const answers::CartLoad& load : all.plan.loads) {
    loads.push_back(json::object{{"title", fmt::format("Load {}", load.number)},
                                 {"green", load.green.empty() ? "On no green" : load.green},
                                 {"labels", load.labels},
                                 {"weight", writtenJson(load.text)}});
  }
  return loads;
}

/// Only where somebody was named: else the plan itself is the list.
json::array workJson(const CourseAnswers& all) {
  const auto& lines = all.plan.work;
  json::array work;
  if (std::all_of(lines.begin(), lines.end(), [](const auto& line) { return line.who.empty(); }))
    return work;
  for (const answers::WorkLine& line : lines) {
    work.push_back(json::object{{"green", line.green.empty() ? "On no green" : line.green},
                                {"text", line.text}});
  }
  return work;
}

json::array notesJson(const CourseAnswers& all) {
  json::array notes;
  for (const auto* list : {&all.progress.notes, &all.plan.notes}) {
    for (const std::string& note : *list) notes.push_back(text(note));
  }
  return notes;
}

}  // namespace

std::string repairsJson(const CourseAnswers& all) {
  json::array cautions;
  for (const answers::Caution& caution : all.plan.cautions) {
    cautions.push_back(
        json::object{{"about", caution.about}, {"text", caution.text}, {"source", caution.source}});
  }
  using answers::PlannedPatch;
  json::object page{{"top", topJson(all)},
                    {"headline", all.plan.headline},
                    {"units",
                     {{"seed", unitOf(all, &PlannedPatch::seedText)},
                      {"fill", unitOf(all, &PlannedPatch::fillText)},
                      {"feed", unitOf(all, &PlannedPatch::feedText)},
                      {"turf", unitOf(all, &PlannedPatch::turfText)}}},
                    {"greens", greensJson(all)},
                    {"totals", totalsJson(all)},
                    {"order", orderJson(all)},
                    {"crew", textsJson(answers::crewOf(all.state))},
                    {"work", workJson(all)},
                    {"loads", loadsJson(all)},
                    {"nitrogen", nitrogenJson(all)},
                    {"notes", notesJson(all)},
                    {"cautions", std::move(cautions)}};
  return json::serialize(page);
}

}  // namespace swardwalk::server::review
