#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string_view>

#include "server/http/message.h"
#include "server/limits.h"

namespace swardwalk::server {

/// Parses one request out of bytes as they come, within the limits; a fresh one for each
/// request. Beast's parser, fed by hand, behind it.
class RequestReader {
 public:
  enum class Step { needsMore, header, whole, broken };

  explicit RequestReader(const Limits& limits);
  ~RequestReader();

  /// Takes from the front of `bytes` what belongs to this request; `used` says how much.
  /// Stops once after the header, so that the caller can refuse the body.
  Step take(std::string_view bytes, std::size_t& used);

  /// After `header`: everything but the body. After `whole`: everything.
  Request& request() { return request_; }
  std::optional<std::uint64_t> declaredBytes() const;
  /// How much of the body came until now.
  std::size_t bodyBytes() const;
  /// After `header`: the body may be no longer than this.
  void limitBody(std::uint64_t bytes);
  bool keepsConnection() const;
  bool waitsForContinue() const;  ///< "Expect: 100-continue"

  /// After `broken`: what to answer before closing.
  const Response& refusal() const { return refusal_; }

 private:
  struct Inner;
  bool readFields();  ///< false: `refusal_` says why
  void readAbsoluteForm();

  std::unique_ptr<Inner> inner_;
  Request request_;
  Response refusal_;
};

}  // namespace swardwalk::server
