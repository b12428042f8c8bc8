#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "common/failure.h"
#include "common/journal/record.h"

namespace swardwalk::journal {

namespace limits {
inline constexpr std::uint64_t photoBytes = 8'388'608;  ///< of one picture
}  // namespace limits

/// The pictures of a data directory, in its folder "photos", each under the BLAKE2b-256 of
/// its bytes in hexadecimal. What has come of one that is not whole stands beside it with the
/// ending ".part". A name says what the bytes must be, so only damaged ones are replaced.
/// Use from one thread; another process may use the same folder.
class PhotoFolder {
 public:
  /// `directory` is the data directory; the folder is made when the first picture comes.
  explicit PhotoFolder(const std::string& directory);
  /// A folder of pictures by itself, as it lies on a memory stick.
  static PhotoFolder at(std::string folder);

  /// It is here, whole.
  bool holds(const Digest& photo) const;
  std::string fileOf(const Digest& photo) const;
  /// Writes a whole picture durably and gives its name. `invalid` where it is empty or over
  /// `limits::photoBytes`, `full`, `io`.
  Result<Digest> add(std::string_view bytes);
  /// Its bytes, checked against its name: `notFound`, `corrupt`, `io`.
  Result<std::string> read(const Digest& photo) const;

  /// How many bytes of it have come, from the first on; all of them where it is whole.
  std::uint64_t have(const Digest& photo) const;
  /// Takes the bytes from `from` on of a picture of `of` bytes, and gives how many are here
  /// then. Bytes that do not begin where those that are here end are left alone. The last
  /// ones make it whole and durable: `corrupt` where it is not the picture of this name, and
  /// then all of it must come again. `invalid` where the numbers do not fit, `full`, `io`.
  Result<std::uint64_t> take(const Digest& photo, std::uint64_t from, std::uint64_t of,
                             std::string_view bytes);

  /// Removes a picture: a damaged one, so that it may come again, or an erased one.
  void drop(const Digest& photo);

  /// The names of all that are here, whole.
  Result<std::vector<Digest>> all() const;

 private:
  struct Itself {};
  PhotoFolder(Itself, std::string folder) : folder_(std::move(folder)) {}

  std::string partOf(const Digest& photo) const;
  Result<void> makeFolder() const;

  std::string folder_;
};

}  // namespace swardwalk::journal
