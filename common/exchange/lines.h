#pragma once

#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "common/exchange/message.h"

/// The JSON of single lines. Failures carry no line number: the reader adds it.
namespace swardwalk::exchange {

/// The first line of a run: its records follow.
struct RunLine {
  journal::Run run;
  std::uint64_t records = 0;
};

struct EndLine {
  std::uint64_t records = 0;
};

/// An object line of a kind that this version does not know: skipped between runs.
struct UnknownLine {};

Result<Hello> parseHello(std::string_view line);
Result<std::variant<RunLine, EndLine, UnknownLine>> parseObject(std::string_view line);

/// `[["<origin>",number,"<digest>"],…]`, and back; also the form of the journal's notes.
std::string writeHeads(std::span<const journal::Head> heads);
Result<std::vector<journal::Head>> parseHeads(std::string_view text, std::size_t limit);

}  // namespace swardwalk::exchange
