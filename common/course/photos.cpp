#include "common/course/photos.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <fmt/format.h>

#include <cstring>
#include <set>

#include "common/course/living.h"

namespace swardwalk::course {

namespace {

/// A picture may be named by one record as the small one and by another as the whole: the
/// first place counts.
constexpr const char* named =
    "SELECT photos.{0}, origins.origin FROM photos "
    "JOIN records ON records.id = photos.record "
    "JOIN chains ON chains.id = records.chain JOIN origins ON origins.id = chains.origin "
    "WHERE photos.{0} NOT NULL ORDER BY photos.record DESC";

template <std::size_t Size>
void copy(const SQLite::Column& column, std::array<std::uint8_t, Size>& bytes) {
  if (column.getBytes() == static_cast<int>(Size))
    std::memcpy(bytes.data(), column.getBlob(), Size);
}

}  // namespace

Result<std::vector<NamedPhoto>> namedPhotos(const journal::Journal& journal) {
  std::vector<NamedPhoto> photos;
  std::set<journal::Digest> seen;
  const auto read = readTogether(journal, [&](SQLite::Database& database) {
    for (const char* column : {"small", "photo"}) {
      SQLite::Statement row(database, fmt::format(fmt::runtime(named), column));
      while (row.executeStep()) {
        NamedPhoto photo;
        copy(row.getColumn(0), photo.photo);
        copy(row.getColumn(1), photo.origin);
        if (seen.insert(photo.photo).second) photos.push_back(photo);
      }
    }
  });
  if (!read) return tl::unexpected(read.error());
  return photos;
}

void dropErased(journal::PhotoFolder& photos, const std::vector<NamedPhoto>& before,
                const std::vector<NamedPhoto>& now) {
  std::set<journal::Digest> named;
  for (const NamedPhoto& photo : now) named.insert(photo.photo);
  for (const NamedPhoto& photo : before) {
    if (!named.contains(photo.photo)) photos.drop(photo.photo);
  }
}

}  // namespace swardwalk::course
