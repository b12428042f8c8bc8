#include <algorithm>
#include <boost/json.hpp>

#include "common/journal/digest.h"
#include "common/journal/first_record.h"
#include "common/journal/journal_inner.h"

namespace swardwalk::journal {

namespace {

/// Ends of runs: signed at the last record, and often enough that a relay, which cuts
/// only where the origin signed, never has to break a limit.
std::vector<std::size_t> signedEnds(std::span<const Record> records) {
  std::vector<std::size_t> ends;
  std::size_t count = 0;
  std::size_t bytes = 0;
  for (std::size_t i = 0; i < records.size(); ++i) {
    const std::size_t size = records[i].content.body.size();
    if (count == limits::runRecords || (count > 0 && bytes + size > limits::runBodyBytes)) {
      ends.push_back(i - 1);
      count = 0;
      bytes = 0;
    }
    ++count;
    bytes += size;
  }
  if (!records.empty()) ends.push_back(records.size() - 1);
  return ends;
}

std::optional<std::string> textAt(const boost::json::value& body, const char* key) {
  const auto* object = body.if_object();
  const auto* properties = object != nullptr ? object->if_contains("properties") : nullptr;
  if (properties == nullptr || !properties->is_object()) return std::nullopt;
  const auto* value = properties->get_object().if_contains(key);
  if (value == nullptr || !value->is_string()) return std::nullopt;
  return std::string(value->get_string());
}

std::optional<std::string> firstRecordText(const Record& record, const char* key) {
  if (record.number != 1 || record.content.type != originType) return std::nullopt;
  boost::json::error_code error;
  const boost::json::value body = boost::json::parse(record.content.body, error);
  if (error) return std::nullopt;
  return textAt(body, key);
}

}  // namespace

bool isFounding(const Record& record, const CourseId& course) {
  const auto text = firstRecordText(record, "nonce");
  const auto nonce = text ? parseHex<16>(*text) : std::nullopt;
  return nonce && courseIdFor(record.origin, *nonce) == course;
}

std::string deviceNameOf(const Record& record) {
  return firstRecordText(record, "device").value_or("");
}

Result<void> Journal::Inner::needCourse() const {
  if (store.picture().course) return {};
  return fail(FailureKind::refused, options.file, "this journal belongs to no course yet",
              "found a course, or exchange with somebody who knows it");
}

std::int64_t Journal::Inner::ownChain() const {
  const KnownOrigin* own = store.picture().find(signer.origin());
  return own == nullptr || own->chains.empty() ? 0 : own->chains.front();
}

Draft Journal::Inner::firstDraft(const First& first) const {
  boost::json::object properties;
  properties["course"] = hex(*store.picture().course);
  properties["device"] = first.device;
  if (first.nonce) properties["nonce"] = hex(*first.nonce);
  if (first.follows) properties["follows"] = hex(*first.follows);
  if (!first.reason.empty()) properties["reason"] = first.reason;
  boost::json::object body;
  body["geometry"] = nullptr;
  body["properties"] = std::move(properties);
  Draft draft;
  draft.type = originType;
  draft.subject = "";
  draft.body = boost::json::serialize(body);
  draft.wall_ms = first.wall_ms;
  draft.clockSource = first.clockSource;
  draft.clockOffset_ms = first.clockOffset_ms;
  return draft;
}

std::vector<Record> Journal::Inner::writeOwn(std::span<const Draft> drafts) {
  const Picture& picture = store.picture();
  std::int64_t chain = ownChain();
  Digest before = chain == 0 ? picture.genesis : picture.chain(chain).head.digest;
  std::uint64_t number = chain == 0 ? 0 : picture.chain(chain).head.number;
  std::uint64_t counter = picture.counter;

  std::vector<Record> records(drafts.size());
  for (std::size_t i = 0; i < drafts.size(); ++i) {
    Record& record = records[i];
    record.origin = signer.origin();
    record.number = ++number;
    // Whoever writes the highest counter there is must not stop everybody else's writing.
    counter = std::min(counter + 1, static_cast<std::uint64_t>(limits::integer));
    record.counter = counter;
    record.content = drafts[i];
    record.bodyDigest = blake2b(record.content.body);
    record.digest = recordDigest(before, record);
    before = record.digest;
  }

  store.know(signer.origin(), true);
  if (chain == 0)
    chain = store.beginChain(signer.origin(), 0, 0, records.back());
  else
    store.growChain(chain, records.back());
  std::vector<FoldInput> inputs;
  inputs.reserve(records.size());
  for (const Record& record : records) inputs.push_back({store.insert(chain, record), &record});
  for (const std::size_t end : signedEnds(records)) {
    const Record& last = records[end];
    store.sign(chain, last.number,
               signer.signHead(*picture.course, {last.origin, last.number, last.digest}));
  }
  store.foldNew(inputs, {});
  store.countChange();
  return records;
}

}  // namespace swardwalk::journal
