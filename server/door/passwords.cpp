#include "server/door/passwords.h"

#include <sodium.h>

#include <algorithm>
#include <new>

#include "server/door/secret.h"

namespace swardwalk::server {
namespace {

constexpr std::size_t leastCharacters = 12;
constexpr std::size_t mostBytes = 256;
constexpr unsigned long long passes = 3;
constexpr std::size_t memory_bytes = std::size_t{19} * 1024 * 1024;

std::size_t charactersOf(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
  }));
}

}  // namespace

std::optional<std::string> passwordTrouble(std::string_view password, std::string_view name) {
  if (charactersOf(password) < leastCharacters) return "it is shorter than 12 characters";
  if (password.size() > mostBytes) return "it is longer than 256 bytes";
  if (password == name) return "it is the person's name";
  if (password.find_first_not_of(password.front()) == std::string_view::npos) {
    return "it is one character again and again";
  }
  return std::nullopt;
}

std::string passwordDigest(std::string_view password) {
  std::string digest(crypto_pwhash_STRBYTES, '\0');
  if (crypto_pwhash_str_alg(digest.data(), password.data(), password.size(), passes, memory_bytes,
                            crypto_pwhash_ALG_ARGON2ID13) != 0) {
    throw std::bad_alloc();
  }
  digest.resize(digest.find('\0'));
  return digest;
}

bool passwordFits(const std::string& digest, std::string_view password) {
  return digest.size() < crypto_pwhash_STRBYTES &&
         crypto_pwhash_str_verify(digest.c_str(), password.data(), password.size()) == 0;
}

std::string nobodysDigest() { return passwordDigest(newSecret()); }

}  // namespace swardwalk::server
