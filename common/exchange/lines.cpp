#include "common/exchange/lines.h"

#include <fmt/format.h>

#include <algorithm>
#include <boost/json.hpp>
#include <limits>

namespace swardwalk::exchange {
namespace {

namespace json = boost::json;
using journal::Head;
using journal::hex;

tl::unexpected<Failure> broken(std::string what) {
  return fail(FailureKind::invalid, "", std::move(what), "");
}

/// Text as JSON. Cut before `limit` bytes at a character's start, so that it stays UTF-8.
std::string quoted(std::string_view text, std::size_t limit) {
  if (text.size() > limit) {
    while (limit > 0 && (static_cast<unsigned char>(text[limit]) & 0xC0) == 0x80) --limit;
    text = text.substr(0, limit);
  }
  return json::serialize(json::string_view(text.data(), text.size()));
}

Result<json::object> parseJsonObject(std::string_view line) {
  json::error_code error;
  json::value value = json::parse(json::string_view(line.data(), line.size()), error);
  if (error) return broken("this is no JSON (" + error.message() + ")");
  if (!value.is_object()) return broken("a JSON object must stand here");
  return std::move(value.get_object());
}

/// A whole number from 0 to 2^63-1: what every SQLite and every JSON library holds exactly.
Result<std::uint64_t> count(const json::value& value, const char* name) {
  if (value.is_int64() && value.get_int64() >= 0) {
    return static_cast<std::uint64_t>(value.get_int64());
  }
  return broken(fmt::format("{} must be a whole number from 0 to 2^63-1", name));
}

Result<std::uint64_t> count(const json::object& object, const char* name) {
  const json::value* value = object.if_contains(name);
  if (!value) return broken(fmt::format("{} is missing", name));
  return count(*value, name);
}

template <class Bytes>
Result<Bytes> bytesOf(const json::value& value, const char* name) {
  if (value.is_string()) {
    const json::string& text = value.get_string();
    if (text.size() == 2 * Bytes{}.size()) {
      if (auto bytes = journal::parseHex<Bytes{}.size()>({text.data(), text.size()})) {
        return *bytes;
      }
    }
  }
  return broken(fmt::format("{} must be {} hexadecimal digits", name, 2 * Bytes{}.size()));
}

template <class Bytes>
Result<Bytes> bytesOf(const json::object& object, const char* name) {
  const json::value* value = object.if_contains(name);
  if (!value) return broken(fmt::format("{} is missing", name));
  return bytesOf<Bytes>(*value, name);
}

Result<bool> flag(const json::object& object, const char* name) {
  const json::value* value = object.if_contains(name);
  if (!value) return false;
  if (!value->is_bool()) return broken(fmt::format("{} must be true or false", name));
  return value->get_bool();
}

Result<Head> headOf(const json::value& value) {
  const json::array* parts = value.if_array();
  if (!parts || parts->size() != 3) return broken("a head must be [origin, number, digest]");
  Head head;
  auto origin = bytesOf<journal::OriginKey>((*parts)[0], "a head's origin");
  if (!origin) return tl::unexpected(origin.error());
  auto number = count((*parts)[1], "a head's number");
  if (!number) return tl::unexpected(number.error());
  auto digest = bytesOf<journal::Digest>((*parts)[2], "a head's digest");
  if (!digest) return tl::unexpected(digest.error());
  return Head{*origin, *number, *digest};
}

Result<std::vector<Head>> headsOf(const json::value& value, const char* name, std::size_t limit) {
  const json::array* list = value.if_array();
  if (!list) return broken(fmt::format("{} must be a list", name));
  if (list->size() > limit) {
    return broken(fmt::format("{} holds {} entries, more than {}", name, list->size(), limit));
  }
  std::vector<Head> heads;
  heads.reserve(list->size());
  for (const json::value& entry : *list) {
    auto head = headOf(entry);
    if (!head) return tl::unexpected(head.error());
    heads.push_back(*head);
  }
  return heads;
}

Result<std::vector<Head>> headsOf(const json::object& object, const char* name, std::size_t limit) {
  const json::value* value = object.if_contains(name);
  if (!value) return std::vector<Head>{};
  return headsOf(*value, name, limit);
}

Result<std::string> textOf(const json::object& object, const char* name, std::size_t limit) {
  const json::value* value = object.if_contains(name);
  if (!value || !value->is_string()) return broken(fmt::format("{} must be a text", name));
  const json::string& text = value->get_string();
  if (text.size() > limit) return broken(fmt::format("{} is over {} bytes", name, limit));
  return std::string(text.data(), text.size());
}

Result<std::vector<Trouble>> troublesOf(const json::object& object) {
  std::vector<Trouble> troubles;
  const json::value* value = object.if_contains("troubles");
  if (!value) return troubles;
  const json::array* list = value->if_array();
  if (!list) return broken("troubles must be a list");
  if (list->size() > limits::troubles) {
    return broken(
        fmt::format("troubles holds {} entries, more than {}", list->size(), limits::troubles));
  }
  for (const json::value& entry : *list) {
    const json::object* parts = entry.if_object();
    if (!parts) return broken("a trouble must be a JSON object");
    auto origin = bytesOf<journal::OriginKey>(*parts, "run");
    if (!origin) return tl::unexpected(origin.error());
    auto after = count(*parts, "after");
    if (!after) return tl::unexpected(after.error());
    auto error = textOf(*parts, "error", limits::reasonBytes);
    if (!error) return tl::unexpected(error.error());
    auto reason = textOf(*parts, "reason", limits::reasonBytes);
    if (!reason) return tl::unexpected(reason.error());
    troubles.push_back({*origin, *after, std::move(*error), std::move(*reason)});
  }
  return troubles;
}

Result<std::vector<MissingPhoto>> missingOf(const json::object& object) {
  std::vector<MissingPhoto> missing;
  const json::value* value = object.if_contains("missing");
  if (!value) return missing;
  const json::array* list = value->if_array();
  if (!list) return broken("missing must be a list");
  if (list->size() > limits::missingPhotos) {
    return broken(
        fmt::format("missing holds {} entries, more than {}", list->size(), limits::missingPhotos));
  }
  for (const json::value& entry : *list) {
    const json::array* parts = entry.if_array();
    if (!parts || parts->size() != 2) return broken("a missing photo must be [digest, bytes]");
    auto photo = bytesOf<journal::Digest>((*parts)[0], "a missing photo");
    if (!photo) return tl::unexpected(photo.error());
    auto have = count((*parts)[1], "a missing photo's bytes");
    if (!have) return tl::unexpected(have.error());
    missing.push_back({*photo, *have});
  }
  return missing;
}

/// The keys that say who sends and what it holds; a `same` answer leaves them out.
Result<void> parseSides(const json::object& object, Hello& hello) {
  if (object.contains("course")) {
    auto course = bytesOf<journal::CourseId>(object, "course");
    if (!course) return tl::unexpected(course.error());
    hello.course = *course;
  }
  if (object.contains("origin")) {
    auto origin = bytesOf<journal::OriginKey>(object, "origin");
    if (!origin) return tl::unexpected(origin.error());
    hello.origin = *origin;
  }
  if (object.contains("vector") || !hello.same) {
    auto vector = bytesOf<journal::Digest>(object, "vector");
    if (!vector) return tl::unexpected(vector.error());
    hello.vector = *vector;
  }
  if (const json::value* value = object.if_contains("heads")) {
    auto heads = headsOf(*value, "heads", limits::heads);
    if (!heads) return tl::unexpected(heads.error());
    hello.heads = std::move(*heads);
  }
  return {};
}

Result<RunLine> parseRunLine(const json::object& object) {
  RunLine line;
  auto origin = bytesOf<journal::OriginKey>(object, "run");
  if (!origin) return tl::unexpected(origin.error());
  auto after = count(object, "after");
  if (!after) return tl::unexpected(after.error());
  auto base = bytesOf<journal::Digest>(object, "base");
  if (!base) return tl::unexpected(base.error());
  auto records = count(object, "records");
  if (!records) return tl::unexpected(records.error());
  auto head = bytesOf<journal::Digest>(object, "head");
  if (!head) return tl::unexpected(head.error());
  auto signature = bytesOf<journal::Signature>(object, "signature");
  if (!signature) return tl::unexpected(signature.error());
  if (*records == 0 || *records > journal::limits::runRecords) {
    return broken(fmt::format("a run holds 1 to {} records", journal::limits::runRecords));
  }
  if (*after > static_cast<std::uint64_t>(std::numeric_limits<std::int64_t>::max()) - *records) {
    return broken("the run's last number is over 2^63-1");
  }
  line.run.origin = *origin;
  line.run.after = *after;
  line.run.base = *base;
  line.run.head = *head;
  line.run.signature = *signature;
  line.records = *records;
  return line;
}

}  // namespace

std::string writeHeads(std::span<const Head> heads) {
  std::string text = "[";
  for (const Head& head : heads) {
    if (text.size() > 1) text += ',';
    text += fmt::format(R"(["{}",{},"{}"])", hex(head.origin), head.number, hex(head.digest));
  }
  return text + "]";
}

Result<std::vector<Head>> parseHeads(std::string_view text, std::size_t limit) {
  json::error_code error;
  const json::value value = json::parse(json::string_view(text.data(), text.size()), error);
  if (error) return broken("this is no JSON (" + error.message() + ")");
  return headsOf(value, "heads", limit);
}

std::string writeHello(const Hello& hello) {
  std::string line = fmt::format(R"({{"protocol":{})", hello.protocol);
  if (hello.course) line += fmt::format(R"(,"course":"{}")", hex(*hello.course));
  if (hello.origin != journal::OriginKey{}) {
    line += fmt::format(R"(,"origin":"{}")", hex(hello.origin));
  }
  if (!hello.same) line += fmt::format(R"(,"vector":"{}")", hex(hello.vector));
  line += fmt::format(R"(,"wall_ms":{})", hello.wall_ms);
  if (hello.same) line += R"(,"same":true)";
  if (hello.more) line += R"(,"more":true)";
  if (!hello.held.empty()) line += R"(,"held":)" + writeHeads(hello.held);
  if (hello.heads) line += R"(,"heads":)" + writeHeads(*hello.heads);
  if (!hello.points.empty()) line += R"(,"points":)" + writeHeads(hello.points);
  if (!hello.troubles.empty()) {
    line += R"(,"troubles":[)";
    const std::size_t listed = std::min(hello.troubles.size(), limits::troubles);
    for (std::size_t i = 0; i < listed; ++i) {
      const Trouble& trouble = hello.troubles[i];
      line += fmt::format(R"({}{{"run":"{}","after":{},"error":{},"reason":{}}})", i ? "," : "",
                          hex(trouble.origin), trouble.after,
                          quoted(trouble.error, limits::reasonBytes),
                          quoted(trouble.reason, limits::reasonBytes));
    }
    line += ']';
  }
  if (!hello.missing.empty()) {
    line += R"(,"missing":[)";
    const std::size_t listed = std::min(hello.missing.size(), limits::missingPhotos);
    for (std::size_t i = 0; i < listed; ++i) {
      line += fmt::format(R"({}["{}",{}])", i ? "," : "", hex(hello.missing[i].photo),
                          hello.missing[i].have);
    }
    line += ']';
  }
  return line + "}\n";
}

Result<Hello> parseHello(std::string_view line) {
  auto object = parseJsonObject(line);
  if (!object) return tl::unexpected(object.error());
  auto protocol = count(*object, "protocol");
  if (!protocol) return tl::unexpected(protocol.error());
  // A later protocol may mean anything by the other keys, so they are not looked at.
  if (*protocol > protocolVersion) {
    return fail(FailureKind::newer, "",
                fmt::format("the other side speaks exchange protocol {}, this one knows {}",
                            *protocol, protocolVersion),
                "update this program");
  }
  if (*protocol == 0) return broken("protocol must be 1 or more");

  Hello hello;
  hello.protocol = static_cast<int>(*protocol);
  auto same = flag(*object, "same");
  if (!same) return tl::unexpected(same.error());
  hello.same = *same;
  auto more = flag(*object, "more");
  if (!more) return tl::unexpected(more.error());
  hello.more = *more;
  const json::value* wall = object->if_contains("wall_ms");
  if (!wall || !wall->is_int64()) return broken("wall_ms must be a whole number of milliseconds");
  hello.wall_ms = wall->get_int64();
  if (auto sides = parseSides(*object, hello); !sides) return tl::unexpected(sides.error());
  auto held = headsOf(*object, "held", limits::heads);
  if (!held) return tl::unexpected(held.error());
  hello.held = std::move(*held);
  auto points = headsOf(*object, "points", limits::points);
  if (!points) return tl::unexpected(points.error());
  hello.points = std::move(*points);
  auto troubles = troublesOf(*object);
  if (!troubles) return tl::unexpected(troubles.error());
  hello.troubles = std::move(*troubles);
  auto missing = missingOf(*object);
  if (!missing) return tl::unexpected(missing.error());
  hello.missing = std::move(*missing);
  return hello;
}

Result<std::variant<RunLine, EndLine, UnknownLine>> parseObject(std::string_view line) {
  auto object = parseJsonObject(line);
  if (!object) return tl::unexpected(object.error());
  if (object->contains("run")) {
    auto run = parseRunLine(*object);
    if (!run) return tl::unexpected(run.error());
    return std::move(*run);
  }
  if (object->contains("end")) {
    auto end = flag(*object, "end");
    if (!end) return tl::unexpected(end.error());
    if (!*end) return broken("end must be true");
    auto records = count(*object, "records");
    if (!records) return tl::unexpected(records.error());
    return EndLine{*records};
  }
  return UnknownLine{};
}

}  // namespace swardwalk::exchange
