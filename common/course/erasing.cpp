#include "common/course/erasing.h"

#include <algorithm>
#include <boost/json.hpp>
#include <cctype>
#include <charconv>
#include <map>
#include <set>
#include <vector>

#include "common/course/checks.h"
#include "common/course/json.h"
#include "common/course/living.h"
#include "common/course/registry.h"

namespace swardwalk::course {

namespace json = boost::json;

namespace {

constexpr std::size_t shortestPrefix = 8;

std::string lower(std::string text) {
  for (char& c : text) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return text;
}

bool isPrefix(std::string_view text) {
  return text.size() >= shortestPrefix &&
         text.find_first_not_of("0123456789abcdef") == std::string_view::npos;
}

/// Does an id mean this record itself?
class RecordNamed {
 public:
  explicit RecordNamed(const std::string& id) {
    const std::size_t colon = id.find(':');
    const std::string_view digits = std::string_view(id).substr(0, colon);
    if (!isPrefix(digits)) return;
    if (colon == std::string::npos) {
      prefix_ = digits;
      return;
    }
    const char* end = id.data() + id.size();
    const auto [stop, error] = std::from_chars(id.data() + colon + 1, end, number_);
    if (error == std::errc() && stop == end) prefix_ = digits;
  }

  bool fits(const journal::Record& record) const {
    if (prefix_.empty()) return false;
    if (number_ == 0) return journal::hex(record.digest).starts_with(prefix_);
    return record.number == number_ && journal::hex(record.origin).starts_with(prefix_);
  }

 private:
  std::string prefix_;
  std::uint64_t number_ = 0;  ///< 0: the prefix is a digest's
};

/// Who is meant by an id or a name: the ids and the names that go with it.
struct Person {
  std::set<std::string> ids;
  std::set<std::string> names;
};

Result<Person> findPerson(const journal::Journal& journal, const std::string& id) {
  Person person;
  JsonReader json;
  person.names.insert(id);
  auto read = forEachNamed(journal, "person", [&](const FoldedRecord& record) {
    const std::string name = propertyOf(json, record.body, "name");
    if (record.nameKey != lower(id) && name != id) return;
    person.ids.emplace(*record.nameKey);
    person.names.insert(name);
  });
  if (!read) return tl::unexpected(std::move(read.error()));
  read = forEachErased(journal, [&](std::string_view type, std::string_view subject) {
    if (type == "person" && subject == lower(id)) person.ids.emplace(subject);
  });
  if (!read) return tl::unexpected(std::move(read.error()));
  return person;
}

/// The bodies that say a person's name, and what stands in their place.
class NameEraser {
 public:
  explicit NameEraser(Person person) : person_(std::move(person)) {}

  void take(const journal::Record& record) {
    if (record.erased || record.content.type == "origin") return;
    const RecordType* type = findType(record.content.type);
    if (record.content.type == "person") {
      if (person_.ids.contains(record.content.subject)) found_.push_back({record, ""});
      return;
    }
    const auto value = reader_.read(record.content.body);
    if (!value || !(*value)->is_object()) return;
    const json::object* properties = propertiesOf((*value)->get_object());
    if (properties == nullptr) return;
    const auto isSaidBy = [&](std::string_view key) {
      return person_.names.contains(std::string(textOf(*properties, key)));
    };
    const bool isSaid = isSaidBy("author") || isSaidBy("who");
    const bool lastWins = type != nullptr && (type->nameKey != nullptr || type->type == "choice");
    if (lastWins) countLast(record, *type, (*value)->get_object());
    if (!isSaid) return;
    // Who withdrew, accepted or erased something, and why, may go without undoing it.
    const bool keepsEffect = type != nullptr && type->sort == RecordType::Sort::keeping;
    std::string rest;
    if (!keepsEffect) {
      json::object body = (*value)->get_object();
      for (const std::string_view key : {"author", "who"}) {
        if (isSaidBy(key)) body["properties"].as_object().erase(key);
      }
      rest = writeJson(body);
    }
    found_.push_back({record, std::move(rest)});
  }

  struct Found {
    journal::Record record;
    std::string rest;  ///< the body without the name; empty: nothing need be written again
  };

  /// In the order in which they were written. What somebody corrected since is not written
  /// again: it would be the last word.
  std::vector<Found> found(const std::set<journal::Digest>& standing) {
    std::sort(found_.begin(), found_.end(),
              [](const Found& a, const Found& b) { return order(a.record) < order(b.record); });
    for (Found& found : found_) {
      const auto key = keys_.find(found.record.digest);
      if (!standing.contains(found.record.digest) ||
          (key != keys_.end() && last_.at(key->second).second != found.record.digest))
        found.rest.clear();
    }
    return std::move(found_);
  }

 private:
  using Order = std::tuple<std::uint64_t, journal::OriginKey, std::uint64_t>;
  static Order order(const journal::Record& record) {
    return {record.counter, record.origin, record.number};
  }

  void countLast(const journal::Record& record, const RecordType& type, const json::object& body) {
    const std::string key = std::string(type.type) + keySeparator +
                            (type.nameKey != nullptr ? type.nameKey(body) : record.content.subject);
    keys_[record.digest] = key;
    auto& last = last_[key];
    last = std::max(last, std::pair(order(record), record.digest));
  }

  Person person_;
  JsonReader reader_;
  std::vector<Found> found_;
  std::map<journal::Digest, std::string> keys_;
  std::map<std::string, std::pair<Order, journal::Digest>> last_;
};

Result<journal::Draft> wishFor(const journal::Record& record, std::int64_t wall_ms) {
  auto draft = draftOf(
      "erase", {{"geometry", nullptr}, {"properties", {{"record", journal::hex(record.digest)}}}});
  if (draft) draft->wall_ms = wall_ms;
  return draft;
}

/// What counts: neither withdrawn nor of an origin that waits.
Result<std::set<journal::Digest>> standingRecords(const journal::Journal& journal) {
  std::set<journal::Digest> standing;
  auto read = forEachFolded(journal, [&](const FoldedRecord& record) {
    if (!record.withdrawn && record.table != FoldedRecord::Table::unusable)
      standing.insert(record.source.digest);
  });
  if (!read) return tl::unexpected(std::move(read.error()));
  return standing;
}

Result<Erased> eraseRecord(journal::Journal& journal, const std::string& id,
                           const std::vector<journal::Record>& named, std::int64_t wall_ms) {
  if (named.size() > 1)
    return fail(FailureKind::invalid, id, "several records begin like this",
                "give more of its digits");
  const journal::Record& record = named.front();
  if (record.content.type == "origin")
    return fail(FailureKind::refused, id,
                "an origin's first record shows that it belongs to the course",
                "erase the records that name a person");
  if (record.erased) return Erased{};
  const auto wish = wishFor(record, wall_ms);
  if (!wish) return tl::unexpected(wish.error());
  const auto written = journal.append({&*wish, 1});
  if (!written) return tl::unexpected(written.error());
  return Erased{1, 0};
}

Result<Erased> eraseName(journal::Journal& journal, const std::vector<NameEraser::Found>& found,
                         std::int64_t wall_ms) {
  Erased erased;
  std::vector<journal::Draft> drafts;
  for (const auto& [record, rest] : found) {
    if (!rest.empty()) {
      drafts.push_back(record.content);
      drafts.back().body = rest;
      ++erased.rewritten;
    }
    auto wish = wishFor(record, wall_ms);
    if (!wish) return tl::unexpected(wish.error());
    drafts.push_back(std::move(*wish));
    ++erased.records;
  }
  const auto written = journal.append(drafts);
  if (!written) return tl::unexpected(written.error());
  return erased;
}

}  // namespace

Result<Erased> erase(journal::Journal& journal, std::string id, std::int64_t wall_ms) {
  auto person = findPerson(journal, id);
  if (!person) return tl::unexpected(std::move(person.error()));
  const bool isPerson = !person->ids.empty();
  NameEraser eraser(std::move(*person));
  const RecordNamed isNamed(lower(id));
  std::vector<journal::Record> named;
  auto read = journal.forEach([&](const journal::Record& record) {
    if (isNamed.fits(record)) named.push_back(record);
    eraser.take(record);
    return true;
  });
  if (!read) return tl::unexpected(std::move(read.error()));
  auto standing = standingRecords(journal);
  if (!standing) return tl::unexpected(std::move(standing.error()));
  const auto found = eraser.found(*standing);
  if (!found.empty() || isPerson) return eraseName(journal, found, wall_ms);
  if (!named.empty()) return eraseRecord(journal, id, named, wall_ms);
  return fail(FailureKind::notFound, id, "no such record or person is here",
              "give 8 or more digits of a record's digest, a device's first digits with a colon "
              "and the record's number, or a person's id or name");
}

}  // namespace swardwalk::course
