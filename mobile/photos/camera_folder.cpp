#include "mobile/photos/camera_folder.h"

#include <QDateTime>
#include <QDirIterator>
#include <QObject>
#include <algorithm>

namespace swardwalk::mobile {

namespace {

const QStringList endings{QStringLiteral("*.jpg"), QStringLiteral("*.jpeg"),
                          QStringLiteral("*.png")};

/// A folder of pictures may hold a life's worth: so many are looked at.
constexpr int mostFiles = 20'000;

}  // namespace

std::vector<QFileInfo> CameraFolder::newest(std::size_t most) const {
  std::vector<QFileInfo> files;
  int looked = 0;
  for (const QString& folder : folders_) {
    QDirIterator entry(folder, endings, QDir::Files | QDir::Readable, QDirIterator::Subdirectories);
    while (entry.hasNext() && ++looked < mostFiles) {
      entry.next();
      files.push_back(entry.fileInfo());
    }
  }
  const std::size_t shown = std::min(most, files.size());
  std::partial_sort(files.begin(), files.begin() + static_cast<std::ptrdiff_t>(shown), files.end(),
                    [](const QFileInfo& a, const QFileInfo& b) {
                      return std::make_tuple(b.lastModified(), a.fileName()) <
                             std::make_tuple(a.lastModified(), b.fileName());
                    });
  files.resize(shown);
  return files;
}

QString CameraFolder::words() const { return folders_.join(QObject::tr(" or ")); }

}  // namespace swardwalk::mobile
