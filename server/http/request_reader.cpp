#include "server/http/request_reader.h"

#include <boost/asio/buffer.hpp>
#include <boost/beast/http/parser.hpp>
#include <boost/beast/http/rfc7230.hpp>
#include <boost/beast/http/string_body.hpp>

namespace swardwalk::server {

namespace http = boost::beast::http;
using boost::system::error_code;

struct RequestReader::Inner {
  http::request_parser<http::string_body> parser;
  std::size_t headerBytes = 0;
  std::size_t targetBytes = 0;
  bool headerGiven = false;
};

namespace {

Response refusalFor(const error_code& error) {
  if (error == http::error::header_limit) {
    return failureResponse(431, "header_too_long", "The request's header is too long.");
  }
  if (error == http::error::body_limit) {
    return failureResponse(413, "too_large",
                           "The request's body is too long; send it in smaller parts.");
  }
  return failureResponse(400, "bad_request", "This is not a request that HTTP allows.");
}

template <class Text>
std::string text(const Text& view) {
  return std::string(view.data(), view.size());
}

}  // namespace

RequestReader::RequestReader(const Limits& limits) : inner_(std::make_unique<Inner>()) {
  inner_->headerBytes = limits.headerBytes;
  inner_->targetBytes = limits.targetBytes;
  inner_->parser.header_limit(static_cast<std::uint32_t>(limits.headerBytes));
  inner_->parser.body_limit(limits.bodyBytes);
}

RequestReader::~RequestReader() = default;

RequestReader::Step RequestReader::take(std::string_view bytes, std::size_t& used) {
  auto& parser = inner_->parser;
  parser.eager(inner_->headerGiven);
  error_code error;
  used = 0;
  if (!inner_->headerGiven || !parser.is_done()) {
    used = parser.put(boost::asio::buffer(bytes.data(), bytes.size()), error);
  }
  if (error && error != http::error::need_more) {
    refusal_ = refusalFor(error);
    return Step::broken;
  }
  if (!parser.is_header_done()) return Step::needsMore;
  if (!inner_->headerGiven) {
    inner_->headerGiven = true;
    if (!readFields()) return Step::broken;
    if (request_.target.size() > inner_->targetBytes) {
      refusal_ = failureResponse(414, "target_too_long", "The address is too long.");
      return Step::broken;
    }
    return Step::header;
  }
  if (!parser.is_done()) {
    // Beast limits the header alone, and not what stands before and behind chunks.
    if (bytes.size() - used > inner_->headerBytes) {
      refusal_ = failureResponse(431, "header_too_long", "The header of a chunk is too long.");
      return Step::broken;
    }
    return Step::needsMore;
  }
  request_.body = std::move(parser.get().body());
  return Step::whole;
}

bool RequestReader::readFields() {
  const auto& message = inner_->parser.get();
  // RFC 9112, 3.2 and 6.1: one Host, and no coding that would hide where the body ends.
  constexpr unsigned http11 = 11;
  const std::size_t hosts = message.count(http::field::host);
  if (hosts > 1 || (hosts == 0 && message.version() == http11)) {
    refusal_ = failureResponse(400, "bad_request", "A request names its Host, once.");
    return false;
  }
  if (message.count(http::field::transfer_encoding) > 0 &&
      (message.version() != http11 ||
       !boost::beast::iequals(message[http::field::transfer_encoding], "chunked"))) {
    refusal_ = failureResponse(501, "bad_coding", "Bodies come as they are, or chunked.");
    return false;
  }
  switch (message.method()) {
    case http::verb::get:
      request_.method = Method::get;
      break;
    case http::verb::head:
      request_.method = Method::head;
      break;
    case http::verb::post:
      request_.method = Method::post;
      break;
    default:
      request_.method = Method::other;
  }
  request_.target = text(message.target());
  request_.host = text(message[http::field::host]);
  request_.contentType = text(message[http::field::content_type]);
  request_.etagKnown = text(message[http::field::if_none_match]);
  request_.cookies = text(message[http::field::cookie]);
  request_.origin = text(message[http::field::origin]);
  request_.fetchSite = text(message["Sec-Fetch-Site"]);
  constexpr std::string_view bearer = "Bearer ";
  const std::string credentials = text(message[http::field::authorization]);
  if (credentials.starts_with(bearer)) request_.token = credentials.substr(bearer.size());
  request_.takesGzip = http::token_list(message[http::field::accept_encoding]).exists("gzip");
  readAbsoluteForm();
  return true;
}

void RequestReader::readAbsoluteForm() {
  // RFC 9112, 3.2.2: to be taken, and what it names counts instead of Host.
  for (const std::string_view scheme : {"http://", "https://"}) {
    if (!request_.target.starts_with(scheme)) continue;
    const std::size_t path = request_.target.find('/', scheme.size());
    request_.host = request_.target.substr(scheme.size(), path - scheme.size());
    request_.target = path == std::string::npos ? "/" : request_.target.substr(path);
    return;
  }
}

std::optional<std::uint64_t> RequestReader::declaredBytes() const {
  if (inner_->parser.chunked()) return std::nullopt;
  const auto length = inner_->parser.content_length();
  return length ? *length : 0;
}

std::size_t RequestReader::bodyBytes() const {
  return inner_->parser.get().body().size() + request_.body.size();
}

void RequestReader::limitBody(std::uint64_t bytes) { inner_->parser.body_limit(bytes); }

bool RequestReader::keepsConnection() const { return inner_->parser.keep_alive(); }

bool RequestReader::waitsForContinue() const {
  return boost::beast::iequals(inner_->parser.get()[http::field::expect], "100-continue");
}

}  // namespace swardwalk::server
