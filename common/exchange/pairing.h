#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "common/failure.h"
#include "common/journal/signer.h"

/// How a device gets its token from a shed; PROTOCOL.md, "Pairing", specifies it.
namespace swardwalk::exchange {

namespace limits {
inline constexpr std::size_t pairingBytes = 4096;    ///< of one message, either way
inline constexpr std::size_t deviceNameBytes = 120;  ///< UTF-8
}  // namespace limits

/// How many characters a code has without its dash, each of 32.
inline constexpr std::size_t codeCharacters = 8;
/// How long it can be used.
inline constexpr std::int64_t codeLasts_ms = 600'000;

/// What a person typed as it was meant: upper case, without dashes and blanks, O and I
/// read as 0 and 1; nothing where it cannot be a code.
std::optional<std::string> parseCode(std::string_view typed);
/// "ABCD-EFGH"
std::string writtenCode(std::string_view code);
/// A code from random bytes: 40 bits.
std::string codeFrom(const std::array<std::uint8_t, 5>& random);

/// What a device asks to be let in with.
struct PairingQuestion {
  std::string code;  ///< without its dash
  journal::OriginKey origin{};
  std::string device;  ///< how it names itself; may be empty
  journal::Signature signature{};
};

/// Signed by the device's own key, over the code and the certificate that it met:
/// nobody pairs in another's name, and nobody between them can pass it on.
PairingQuestion pairingQuestion(const journal::Signer& signer, std::string code, std::string device,
                                std::string_view fingerprint);
bool verifies(const PairingQuestion& question, std::string_view fingerprint);

std::string write(const PairingQuestion& question);
Result<PairingQuestion> parsePairingQuestion(std::string_view text);

/// `{"token": …}`
std::string writePairingAnswer(std::string_view token);
Result<std::string> parsePairingAnswer(std::string_view text);

/// What a QR picture holds, and what may be pasted: where the shed is, by which
/// certificate it is known, and the code.
struct PairingCard {
  std::string address;
  std::string fingerprint;  ///< 64 digits
  std::string code;
};

std::string write(const PairingCard& card);
/// Nothing where the text is no such card.
std::optional<PairingCard> parsePairingCard(std::string_view text);

}  // namespace swardwalk::exchange
