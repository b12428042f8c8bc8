#include "server/shed/choice_routes.h"

#include <fmt/format.h>
#include <spdlog/spdlog.h>

#include <algorithm>
#include <boost/json.hpp>

#include "common/answers/choosing.h"
#include "common/course/recorder.h"

namespace swardwalk::server {
namespace {

namespace json = boost::json;

Response ofJournal(const Failure& failure) {
  if (failure.kind == FailureKind::busy) return busyResponse(failure.text());
  if (failure.kind == FailureKind::full) return failureResponse(507, "full", failure.text());
  if (failure.kind == FailureKind::invalid)
    return failureResponse(400, "bad_choice", failure.text());
  spdlog::error("{}", failure.text());
  return failureResponse(500, "journal", failure.text());
}

Response saved() {
  Response response;
  response.body = R"({"saved":true})";
  response.fields.emplace_back("Cache-Control", "no-store");
  return response;
}

json::object read(const std::string& body) {
  json::error_code error;
  const json::value value = json::parse(body, error);
  return error || !value.is_object() ? json::object() : value.get_object();
}

std::string textIn(const json::object& body, std::string_view key) {
  const json::value* text = body.if_contains(key);
  return text != nullptr && text->is_string() ? std::string(text->get_string()) : std::string();
}

course::Recorder recorderOf(Shed& shed, const Caller& caller) {
  course::Pen pen;
  if (caller.person) pen.authorName = caller.person->name;
  pen.device = "the shed's page";
  return {shed.journal(), pen, [&shed] { return shed.now_ms(); }};
}

Response noSuchPatch() {
  return failureResponse(404, "no_such_patch",
                         "No open patch has this name. Load the page again: it may have closed.");
}

}  // namespace

Response answerChoose(Shed& shed, const Request& request, const Caller& caller) {
  const json::object body = read(request.body);
  const auto present = shed.answers();
  if (!present) return ofJournal(present.error());
  const auto& planned = (*present)->plan.patches;
  const std::string patch = textIn(body, "patch");
  const auto known =
      std::find_if(planned.begin(), planned.end(),
                   [&](const answers::PlannedPatch& one) { return one.patch == patch; });
  if (known == planned.end()) return noSuchPatch();
  const std::string wanted = textIn(body, "choice");
  for (const answers::ChoiceCard& card : answers::choiceCards(*known)) {
    if (repair::word(card.choice) != wanted) continue;
    if (!card.possible) {
      return failureResponse(
          409, "not_possible",
          fmt::format("{} is not possible here: {}.", card.title, card.lines.front()));
    }
    course::Choice choice;
    choice.patch = patch;
    choice.choice = wanted;
    choice.why = textIn(body, "why");
    choice.who = textIn(body, "who");
    if (const auto record = recorderOf(shed, caller).choice(choice); !record)
      return ofJournal(record.error());
    return saved();
  }
  return failureResponse(400, "bad_choice", "This is none of the choices of this patch.");
}

Response answerFollowPlan(Shed& shed, const Request& request, const Caller& caller) {
  const auto present = shed.answers();
  if (!present) return ofJournal(present.error());
  const course::Patch* patch = (*present)->state.patch(textIn(read(request.body), "patch"));
  if (patch == nullptr) return noSuchPatch();
  std::vector<journal::Digest> standing;
  for (const course::Choice& choice : patch->choices) standing.push_back(choice.source.digest);
  course::Recorder recorder = recorderOf(shed, caller);
  for (const journal::Digest& choice : standing) {
    if (const auto record = recorder.withdraw(choice, "the plan is followed again"); !record)
      return ofJournal(record.error());
  }
  return saved();
}

}  // namespace swardwalk::server
