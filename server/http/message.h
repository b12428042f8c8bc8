#pragma once

#include <boost/asio/awaitable.hpp>
#include <chrono>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace swardwalk::server {

enum class Method { get, head, post, other };

/// A request as the routes see it: only what they decide by. Fields are as they came.
struct Request {
  std::string id;  ///< names it in the log and in its answer
  Method method = Method::get;
  std::string target;  ///< path and query, not decoded
  std::string host;
  std::string contentType;
  std::string etagKnown;  ///< If-None-Match
  std::string remote;     ///< who asks: the address of the connection's other end
  std::string token;      ///< Authorization: Bearer; empty where there is none
  std::string cookies;    ///< Cookie
  std::string fetchSite;  ///< Sec-Fetch-Site: how browsers say whose page asks
  std::string origin;     ///< Origin: the same, of older ones
  bool takesGzip = false;
  std::string body;

  /// The target up to its query, as it came.
  std::string_view path() const;
  /// The decoded value of a query's name; nothing where it is not there or badly written.
  std::optional<std::string> query(std::string_view name) const;
  /// The value of a cookie; empty where it was not sent.
  std::string_view cookie(std::string_view name) const;
};

/// "%4E7" to "N7"; nothing for a broken escape or bytes that are no UTF-8 text.
std::optional<std::string> decodePercent(std::string_view text);

struct Response {
  unsigned status = 200;
  std::string contentType = "application/json; charset=utf-8";
  std::string body;
  std::vector<std::pair<std::string, std::string>> fields;  ///< further header fields
  bool forDevices = false;  ///< no browser asks for it: nothing for browsers stands in its head
};

/// `{"error": …, "reason": …}`: the first for programs, the second for people.
Response failureResponse(unsigned status, std::string_view error, std::string_view reason);

/// 503, with the time after which trying again may help.
Response busyResponse(std::string_view reason);

/// What a request's header alone comes to.
struct Welcome {
  std::optional<Response> refusal;  ///< ends the request before its body is read
  std::uint64_t mostBodyBytes = 0;  ///< also where the header does not say how long it is
  bool known = false;               ///< a paired device, or somebody who signed in
};

/// Answers requests for sessions. Lives longer than every session.
class RequestHandler {
 public:
  virtual ~RequestHandler() = default;

  /// Decides by the header alone whether the body is worth reading. `declaredBytes` is
  /// nothing where the length is not known beforehand.
  virtual Welcome welcome(const Request& request, std::optional<std::uint64_t> declaredBytes) = 0;

  virtual boost::asio::awaitable<Response> handle(Request request) = 0;

  /// Told of every answer and refusal, once it is made: `asked` with neither body nor
  /// credentials, and without a target where no header could be read.
  virtual void answered(const Request& asked, unsigned status, std::chrono::microseconds took) {
    static_cast<void>(asked), static_cast<void>(status), static_cast<void>(took);
  }
};

}  // namespace swardwalk::server
