#include "common/exchange/pairing.h"

#include <fmt/format.h>

#include <boost/json.hpp>

namespace swardwalk::exchange {
namespace {

namespace json = boost::json;

/// Without letters that look like digits or like each other.
constexpr std::string_view alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
static_assert(alphabet.size() == 32);

constexpr std::string_view cardBegin = "swardwalk pair 1";

std::string wordsOf(const PairingQuestion& question, std::string_view fingerprint) {
  return fmt::format("swardwalk pairing 1\n{}\n{}\n", question.code, fingerprint);
}

tl::unexpected<Failure> broken(std::string what) {
  return fail(FailureKind::invalid, "pairing", std::move(what), "pair again");
}

Result<json::object> objectOf(std::string_view text) {
  if (text.size() > limits::pairingBytes) return broken("the message is too long");
  json::error_code error;
  json::value value = json::parse(json::string_view(text.data(), text.size()), error);
  if (error || !value.is_object()) return broken("the message is no JSON object");
  return std::move(value.get_object());
}

std::string_view textOf(const json::object& object, std::string_view key) {
  const json::value* value = object.if_contains(key);
  if (!value || !value->is_string()) return {};
  const json::string& text = value->get_string();
  return {text.data(), text.size()};
}

}  // namespace

std::optional<std::string> parseCode(std::string_view typed) {
  std::string code;
  for (char c : typed) {
    if (c == '-' || c == ' ' || c == '\t') continue;
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
    if (c == 'O') c = '0';
    if (c == 'I' || c == 'L') c = '1';
    if (alphabet.find(c) == std::string_view::npos || code.size() == codeCharacters) {
      return std::nullopt;
    }
    code += c;
  }
  if (code.size() != codeCharacters) return std::nullopt;
  return code;
}

std::string writtenCode(std::string_view code) {
  const std::size_t half = codeCharacters / 2;
  return fmt::format("{}-{}", code.substr(0, half), code.substr(half));
}

std::string codeFrom(const std::array<std::uint8_t, 5>& random) {
  std::uint64_t bits = 0;
  for (const std::uint8_t byte : random) bits = bits << 8U | byte;
  std::string code;
  for (std::size_t i = 0; i < codeCharacters; ++i, bits >>= 5U) code += alphabet[bits & 31U];
  return code;
}

PairingQuestion pairingQuestion(const journal::Signer& signer, std::string code, std::string device,
                                std::string_view fingerprint) {
  PairingQuestion question{std::move(code), signer.origin(), std::move(device), {}};
  if (question.device.size() > limits::deviceNameBytes) question.device.clear();
  question.signature = signer.signWords(wordsOf(question, fingerprint));
  return question;
}

bool verifies(const PairingQuestion& question, std::string_view fingerprint) {
  return journal::wordsVerify(question.origin, wordsOf(question, fingerprint), question.signature);
}

std::string write(const PairingQuestion& question) {
  return json::serialize(json::object{{"code", question.code},
                                      {"origin", journal::hex(question.origin)},
                                      {"device", question.device},
                                      {"signature", journal::hex(question.signature)}});
}

Result<PairingQuestion> parsePairingQuestion(std::string_view text) {
  const auto object = objectOf(text);
  if (!object) return tl::unexpected(object.error());
  PairingQuestion question;
  const auto code = parseCode(textOf(*object, "code"));
  if (!code) return broken("code must be a pairing code");
  question.code = *code;
  const auto origin = journal::parseHex<32>(textOf(*object, "origin"));
  const auto signature = journal::parseHex<64>(textOf(*object, "signature"));
  if (!origin || !signature) return broken("origin and signature must be hexadecimal digits");
  question.origin = *origin;
  question.signature = *signature;
  question.device = textOf(*object, "device");
  if (question.device.size() > limits::deviceNameBytes) return broken("device is too long");
  return question;
}

std::string writePairingAnswer(std::string_view token) {
  return json::serialize(json::object{{"token", json::string_view(token.data(), token.size())}});
}

Result<std::string> parsePairingAnswer(std::string_view text) {
  const auto object = objectOf(text);
  if (!object) return tl::unexpected(object.error());
  const std::string_view token = textOf(*object, "token");
  if (!journal::parseHex<32>(token)) return broken("the shed gave no token");
  return std::string(token);
}

std::string write(const PairingCard& card) {
  return fmt::format("{}\n{}\n{}\n{}\n", cardBegin, card.address, card.fingerprint,
                     writtenCode(card.code));
}

std::optional<PairingCard> parsePairingCard(std::string_view text) {
  std::array<std::string_view, 4> lines;
  std::size_t count = 0;
  while (!text.empty()) {
    const std::size_t end = text.find_first_of(" \t\r\n");
    const bool isTitle = count == 0 && text.starts_with(cardBegin);
    const std::string_view word = text.substr(0, isTitle ? cardBegin.size() : end);
    text.remove_prefix(std::min(text.size(), word.size() + 1));
    if (word.empty()) continue;
    if (count == lines.size()) return std::nullopt;
    lines[count++] = word;
  }
  if (count != lines.size() || lines[0] != cardBegin || !lines[1].starts_with("https://") ||
      !journal::parseHex<32>(lines[2])) {
    return std::nullopt;
  }
  const auto code = parseCode(lines[3]);
  if (!code) return std::nullopt;
  return PairingCard{std::string(lines[1]), std::string(lines[2]), *code};
}

}  // namespace swardwalk::exchange
