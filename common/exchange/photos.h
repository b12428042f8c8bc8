#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "common/exchange/message.h"
#include "common/journal/photo_folder.h"

/// How pictures travel after the records; PROTOCOL.md, "Photos", specifies it.
namespace swardwalk::exchange {

inline constexpr const char* photoType = "application/octet-stream";

namespace limits {
inline constexpr std::size_t photoPartBytes = 262'144;
}

/// Where a part of a picture belongs: its bytes follow `from`, of `of` in all.
struct PhotoTarget {
  journal::Digest photo{};
  std::uint64_t from = 0;
  std::uint64_t of = 0;
};

/// "/photos/<digest>?from=<n>&of=<n>", and back; `invalid` for anything else.
std::string writePhotoTarget(const PhotoTarget& target);
Result<PhotoTarget> parsePhotoTarget(std::string_view target);

/// {"have": n}: how many bytes the receiver has now.
std::string writePhotoAnswer(std::uint64_t have);
Result<std::uint64_t> parsePhotoAnswer(std::string_view answer);

/// The sending side: gives one part after the other of what the peer misses and this side
/// has, from where the peer has it. Without sockets; may be dropped at any point, and another
/// one goes on. Use from one thread.
class PhotoSender {
 public:
  struct Part {
    PhotoTarget target;
    std::string bytes;
  };

  /// `photos` must outlive it.
  PhotoSender(const journal::PhotoFolder& photos, std::vector<MissingPhoto> missing);

  /// The next part, or nothing when no more can be given. A picture that can't be read here,
  /// or is damaged, is left out, and `troubles` says so.
  std::optional<Part> next();
  /// What the peer answered to that part. A picture that does not get on is left out.
  void taken(std::uint64_t have);
  /// The peer does not want it, or found it damaged: on to the next one.
  void refused(std::string_view reason);

  std::uint64_t sent() const { return sent_; }  ///< pictures that the peer has whole now
  const std::vector<std::string>& troubles() const { return troubles_; }

 private:
  void leave(std::string trouble);

  const journal::PhotoFolder* photos_;
  std::vector<MissingPhoto> missing_;  ///< the next one last
  journal::Digest loaded_{};
  std::string bytes_;  ///< of `loaded_`
  std::uint64_t sent_ = 0;
  std::vector<std::string> troubles_;
};

}  // namespace swardwalk::exchange
