#include "server/http/message.h"

#include <boost/json.hpp>

namespace swardwalk::server {
namespace {

int hexDigit(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return -1;
}

bool isText(std::string_view bytes) {
  if (bytes.find('\0') != std::string_view::npos) return false;
  // A JSON parser checks UTF-8 as strictly as RFC 3629 asks.
  boost::json::error_code error;
  boost::json::parse(boost::json::serialize(boost::json::string_view(bytes.data(), bytes.size())),
                     error);
  return !error;
}

}  // namespace

std::string_view Request::path() const {
  return std::string_view(target).substr(0, target.find('?'));
}

std::optional<std::string> Request::query(std::string_view name) const {
  const std::size_t mark = target.find('?');
  if (mark == std::string::npos) return std::nullopt;
  std::string_view rest = std::string_view(target).substr(mark + 1);
  while (!rest.empty()) {
    const std::string_view pair = rest.substr(0, rest.find('&'));
    rest.remove_prefix(std::min(rest.size(), pair.size() + 1));
    const std::size_t equals = pair.find('=');
    if (equals != std::string_view::npos && pair.substr(0, equals) == name) {
      return decodePercent(pair.substr(equals + 1));
    }
  }
  return std::nullopt;
}

std::string_view Request::cookie(std::string_view name) const {
  std::string_view rest = cookies;
  while (!rest.empty()) {
    std::string_view pair = rest.substr(0, rest.find(';'));
    rest.remove_prefix(std::min(rest.size(), pair.size() + 1));
    while (pair.starts_with(' ')) pair.remove_prefix(1);
    const std::size_t equals = pair.find('=');
    if (equals != std::string_view::npos && pair.substr(0, equals) == name) {
      return pair.substr(equals + 1);
    }
  }
  return {};
}

std::optional<std::string> decodePercent(std::string_view text) {
  std::string decoded;
  decoded.reserve(text.size());
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] != '%') {
      decoded += text[i];
      continue;
    }
    if (i + 2 >= text.size()) return std::nullopt;
    const int high = hexDigit(text[i + 1]);
    const int low = hexDigit(text[i + 2]);
    if (high < 0 || low < 0) return std::nullopt;
    decoded += static_cast<char>(high * 16 + low);
    i += 2;
  }
  if (!isText(decoded)) return std::nullopt;
  return decoded;
}

Response failureResponse(unsigned status, std::string_view error, std::string_view reason) {
  Response response;
  response.status = status;
  response.body = boost::json::serialize(
      boost::json::object{{"error", boost::json::string_view(error.data(), error.size())},
                          {"reason", boost::json::string_view(reason.data(), reason.size())}});
  response.fields.emplace_back("Cache-Control", "no-store");
  return response;
}

Response busyResponse(std::string_view reason) {
  Response response = failureResponse(503, "busy", reason);
  response.fields.emplace_back("Retry-After", "2");
  return response;
}

}  // namespace swardwalk::server
