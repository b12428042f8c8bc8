#include "common/course/recorder.h"

#include <boost/json.hpp>
#include <cassert>

#include "common/course/checks.h"
#include "common/course/json.h"
#include "common/course/living.h"
#include "common/course/registry.h"
#include "common/course/write_features.h"

namespace swardwalk::course {

namespace json = boost::json;

namespace {

bool isSomebody(const Pen& pen) { return pen.author != journal::PersonId{}; }

/// Adds who wrote it where the body does not say so itself.
void sign(json::object& body, const Pen& pen) {
  json::object& properties = body["properties"].as_object();
  if (!isSomebody(pen) && !pen.authorName.empty()) properties.emplace("author", pen.authorName);
  if (!pen.device.empty()) properties.emplace("device", pen.device);
}

json::object keeping(std::string_view key, std::string_view value) {
  return {{"geometry", nullptr}, {"properties", json::object{{key, value}}}};
}

/// The body with the raw fixes beside it, as many as there is room for.
json::object withFixes(json::object body, const std::vector<geo::Fix>& fixes) {
  if (fixes.empty()) return body;
  // The pen's names take a little room, too.
  const std::size_t taken = writeJson(body).size() + 4 * limits::nameCharacters * 2 + 64;
  const std::size_t room =
      journal::limits::bodyBytes > taken ? journal::limits::bodyBytes - taken : 0;
  body["properties"].as_object()["fixes"] = fixesOf(fixes, room);
  return body;
}

}  // namespace

Recorder::Recorder(journal::Journal& journal, Pen pen, Clock clock)
    : journal_(&journal), pen_(std::move(pen)), clock_(std::move(clock)) {}

void Recorder::clockIs(journal::ClockSource source, std::int64_t offset_ms) {
  clockSource_ = source;
  clockOffset_ms_ = offset_ms;
}

Result<journal::Draft> Recorder::draft(std::string_view type, const json::object& body) const {
  auto draft = draftOf(type, body);
  if (!draft) return draft;
  draft->author = pen_.author;
  draft->wall_ms = clock_();
  draft->clockSource = clockSource_;
  draft->clockOffset_ms = clockSource_ == journal::ClockSource::none ? 0 : clockOffset_ms_;
  return draft;
}

Result<journal::Record> Recorder::append(std::vector<journal::Draft> drafts) {
  auto records = journal_->append(drafts);
  if (!records) return tl::unexpected(std::move(records.error()));
  assert(!records->empty());
  return std::move(records->back());
}

Result<journal::Record> Recorder::feature(std::string_view type, const json::object& body) {
  auto written = draft(type, body);
  if (!written) return tl::unexpected(std::move(written.error()));
  return append({std::move(*written)});
}

Result<std::optional<journal::Draft>> Recorder::missingPerson() const {
  const std::string id = journal::hex(pen_.author);
  auto known = isPersonKnown(*journal_, id, pen_.authorName);
  if (!known) return tl::unexpected(std::move(known.error()));
  if (*known) return std::nullopt;
  auto person = draft(
      "person", {{"geometry", nullptr}, {"properties", {{"id", id}, {"name", pen_.authorName}}}});
  if (!person) return tl::unexpected(std::move(person.error()));
  return std::optional(std::move(*person));
}

Result<journal::Record> Recorder::signedFeature(std::string_view type, json::object body) {
  sign(body, pen_);
  std::vector<journal::Draft> drafts;
  if (!named_ && isSomebody(pen_) && !pen_.authorName.empty()) {
    auto person = missingPerson();
    if (!person) return tl::unexpected(std::move(person.error()));
    if (*person) drafts.push_back(std::move(**person));
  }
  auto written = draft(type, body);
  if (!written) return tl::unexpected(std::move(written.error()));
  drafts.push_back(std::move(*written));
  auto record = append(std::move(drafts));
  if (record) named_ = true;
  return record;
}

Result<journal::Record> Recorder::sighting(const Sighting& sighting) {
  return signedFeature("sighting", bodyOf(sighting));
}

Result<journal::Record> Recorder::walkedSighting(const Sighting& sighting,
                                                 const std::vector<geo::Fix>& fixes) {
  return signedFeature("sighting", withFixes(bodyOf(sighting), fixes));
}

Result<journal::Record> Recorder::mark(const Mark& mark, const std::vector<geo::Fix>& fixes) {
  return signedFeature("mark", withFixes(bodyOf(mark), fixes));
}

Result<journal::Record> Recorder::frame(const Frame& frame) {
  return signedFeature("frame", bodyOf(frame));
}

Result<journal::Record> Recorder::closed(const Closed& closed) {
  return signedFeature("closed", bodyOf(closed));
}

Result<journal::Record> Recorder::repair(const Repair& repair) {
  return signedFeature("repair", bodyOf(repair));
}

Result<journal::Record> Recorder::cameUp(const CameUp& cameUp) {
  return signedFeature("came_up", bodyOf(cameUp));
}

Result<journal::Record> Recorder::photo(const Photo& photo) {
  return signedFeature("photo", bodyOf(photo));
}

Result<journal::Record> Recorder::choice(const Choice& choice) {
  return signedFeature("choice", bodyOf(choice));
}

Result<journal::Record> Recorder::round(const Round& round) {
  return signedFeature("round", bodyOf(round));
}

Result<journal::Record> Recorder::join(const Join& join) {
  return signedFeature("join", bodyOf(join));
}

Result<journal::Record> Recorder::water(std::string_view type, const Water& water) {
  return signedFeature(type, bodyOf(water));
}

Result<journal::Record> Recorder::temperature(const Temperature& temperature) {
  return signedFeature("temperature", bodyOf(temperature));
}

Result<journal::Record> Recorder::seedLot(const turf::SeedLot& lot,
                                          std::optional<measure::Instant> counted) {
  return signedFeature("seed_lot", bodyOf(lot, counted));
}

Result<journal::Record> Recorder::feed(const turf::Feed& feed,
                                       std::optional<measure::Instant> counted) {
  return signedFeature("feed", bodyOf(feed, counted));
}

Result<journal::Record> Recorder::fill(const turf::Fill& fill,
                                       std::optional<measure::Instant> counted) {
  return signedFeature("fill", bodyOf(fill, counted));
}

Result<journal::Record> Recorder::turf(const turf::Turf& turf,
                                       std::optional<measure::Instant> counted) {
  return signedFeature("turf", bodyOf(turf, counted));
}

Result<journal::Record> Recorder::withdraw(const journal::Digest& record, std::string_view why) {
  json::object body = keeping("record", journal::hex(record));
  if (!why.empty()) body["properties"].as_object()["why"] = why;
  return signedFeature("withdraw", std::move(body));
}

Result<journal::Record> Recorder::erase(const journal::Digest& record) {
  return signedFeature("erase", keeping("record", journal::hex(record)));
}

Result<journal::Record> Recorder::accept(const journal::OriginKey& origin) {
  return signedFeature("accept", keeping("origin", journal::hex(origin)));
}

std::string newPatchId(const std::function<void(std::uint8_t*, std::size_t)>& random) {
  std::array<std::uint8_t, 16> bytes;
  random(bytes.data(), bytes.size());
  return journal::hex(bytes);
}

}  // namespace swardwalk::course
