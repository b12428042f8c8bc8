#include "server/command/photo_copies.h"

#include "common/course/photos.h"

namespace swardwalk::server {

journal::PhotoFolder photosBeside(const std::string& file) {
  return journal::PhotoFolder::at(file + ".photos");
}

Result<PhotoCopies> copyPhotos(const journal::Journal& journal, const journal::PhotoFolder& from,
                               journal::PhotoFolder& to) {
  const auto named = course::namedPhotos(journal);
  if (!named) return tl::unexpected(named.error());
  PhotoCopies copies;
  for (const course::NamedPhoto& one : *named) {
    if (to.holds(one.photo) || !from.holds(one.photo)) continue;
    const auto bytes = from.read(one.photo);
    if (!bytes) {
      copies.troubles.push_back(bytes.error().text());
      continue;
    }
    if (auto added = to.add(*bytes); !added) return tl::unexpected(added.error());
    ++copies.copied;
  }
  return copies;
}

}  // namespace swardwalk::server
