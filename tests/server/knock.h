#pragma once

#include <string>
#include <string_view>

namespace swardwalk::server {

/// Somebody at the shed's door who says what they like, over plain TCP on loopback.
class Knock {
 public:
  explicit Knock(unsigned short port);
  ~Knock();
  Knock(Knock&& other) noexcept;
  Knock& operator=(Knock&&) = delete;

  /// As much of it as goes out without waiting; how many bytes that were.
  std::size_t say(std::string_view bytes);
  /// The same, waiting for room, until all of it is out or the other side is gone.
  void sayAll(std::string_view bytes);
  /// The other side said something or ended the connection; looks without waiting long.
  bool isEndedOrAnswered();
  /// Until the other side ends the connection.
  std::string hearAll();
  /// As much as makes up the header of an answer.
  std::string hearHead();

 private:
  std::string hear(bool toTheEnd);

  int socket_ = -1;
};

}  // namespace swardwalk::server
