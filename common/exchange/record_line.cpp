#include <fmt/format.h>

#include <boost/json.hpp>
#include <limits>

#include "common/exchange/message.h"

namespace swardwalk::exchange {
namespace {

namespace json = boost::json;
using journal::Record;

constexpr std::size_t headerFields = 8;
constexpr std::size_t erasedFields = 9;
/// A header is at most 2,880 bytes of escaped subject and some 200 of the rest. One that
/// is longer breaks a frozen limit anyway; this only bounds the parser's memory.
constexpr std::size_t headerBytes = 16'384;

tl::unexpected<Failure> broken(std::string what) {
  return fail(FailureKind::invalid, "", std::move(what), "");
}

std::string quoted(std::string_view text) {
  return json::serialize(json::string_view(text.data(), text.size()));
}

std::string_view textOf(const json::value& value) {
  const json::string& text = value.get_string();
  return {text.data(), text.size()};
}

/// A whole number from `least` to `most`. A fraction, an exponent or a number beyond
/// 64 bit is none: it would have lost digits on its way.
bool wholeIn(const json::value& value, std::int64_t least, std::int64_t most) {
  return value.is_int64() && value.get_int64() >= least && value.get_int64() <= most;
}

Result<void> checkHeader(const json::array& fields) {
  constexpr std::int64_t most = std::numeric_limits<std::int64_t>::max();
  constexpr std::int64_t least = std::numeric_limits<std::int64_t>::min();
  if (!wholeIn(fields[0], 0, most)) return broken("counter must be a whole number from 0");
  if (!wholeIn(fields[1], least, most)) return broken("wall_ms must be a whole number");
  if (!wholeIn(fields[2], 0, 255)) return broken("clock source must be a number from 0 to 255");
  if (!wholeIn(fields[3], least, most)) return broken("clock offset must be a whole number");
  if (!fields[4].is_string()) return broken("author must be a text");
  if (!fields[5].is_string()) return broken("type must be a text");
  if (!wholeIn(fields[6], 0, 65535)) return broken("version must be a number from 0 to 65535");
  if (!fields[7].is_string()) return broken("subject must be a text");
  return {};
}

}  // namespace

std::string writeRecord(const Record& record) {
  const journal::Draft& content = record.content;
  std::string line = fmt::format(
      R"([{},{},{},{},"{}",{},{},{})", record.counter, content.wall_ms,
      static_cast<unsigned>(content.clockSource), content.clockOffset_ms,
      content.author == journal::PersonId{} ? std::string() : journal::hex(content.author),
      quoted(content.type), content.version, quoted(content.subject));
  if (record.erased) line += fmt::format(R"(,"{}")", journal::hex(record.bodyDigest));
  line += "]\t";
  if (!record.erased) line += content.body;
  return line;
}

Result<Record> parseRecord(std::string_view line) {
  const std::size_t tab = line.find('\t');
  if (tab == std::string_view::npos) return broken("a record needs a tab before its body");
  if (tab > headerBytes) return broken("the record's header is too long");

  // Which texts a record may hold is the envelope's to say, for its origin alone; bad
  // UTF-8 here must not break the message for all others.
  json::parse_options options;
  options.allow_invalid_utf8 = true;
  options.max_depth = 2;
  unsigned char buffer[4096];
  json::monotonic_resource memory(buffer, sizeof(buffer));
  json::error_code error;
  const json::value value =
      json::parse(json::string_view(line.data(), tab), error, &memory, options);
  if (error) return broken("the record's header is no JSON (" + error.message() + ")");
  const json::array* fields = value.if_array();
  if (!fields || (fields->size() != headerFields && fields->size() != erasedFields)) {
    return broken("the record's header must be a list of 8 or 9 values");
  }
  if (auto checked = checkHeader(*fields); !checked) return tl::unexpected(checked.error());

  Record record;
  record.counter = static_cast<std::uint64_t>((*fields)[0].get_int64());
  record.content.wall_ms = (*fields)[1].get_int64();
  record.content.clockSource = static_cast<journal::ClockSource>((*fields)[2].get_int64());
  record.content.clockOffset_ms = (*fields)[3].get_int64();
  const std::string_view author = textOf((*fields)[4]);
  if (!author.empty()) {
    const auto id = author.size() == 2 * journal::PersonId{}.size()
                        ? journal::parseHex<journal::PersonId{}.size()>(author)
                        : std::nullopt;
    if (!id) return broken("author must be empty or 32 hexadecimal digits");
    record.content.author = *id;
  }
  record.content.type = textOf((*fields)[5]);
  record.content.version = static_cast<std::uint16_t>((*fields)[6].get_int64());
  record.content.subject = textOf((*fields)[7]);

  const std::string_view body = line.substr(tab + 1);
  if (fields->size() == erasedFields) {
    const json::value& digest = (*fields)[8];
    const auto bytes = digest.is_string() && textOf(digest).size() == 2 * journal::Digest{}.size()
                           ? journal::parseHex<journal::Digest{}.size()>(textOf(digest))
                           : std::nullopt;
    if (!bytes) return broken("an erased record's digest must be 64 hexadecimal digits");
    if (!body.empty()) return broken("an erased record has no body");
    record.erased = true;
    record.bodyDigest = *bytes;
  } else {
    record.content.body = body;
  }
  return record;
}

}  // namespace swardwalk::exchange
