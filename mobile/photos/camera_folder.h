#pragma once

#include <QFileInfo>
#include <QStringList>
#include <vector>

namespace swardwalk::mobile {

/// Where the tablet's own camera program puts its pictures. Only read. Use from one thread.
class CameraFolder {
 public:
  explicit CameraFolder(QStringList folders) : folders_(std::move(folders)) {}

  /// The newest pictures, the newest first, of these folders and all within.
  std::vector<QFileInfo> newest(std::size_t most) const;
  /// As people read it: "/home/crew/Pictures".
  QString words() const;

 private:
  QStringList folders_;
};

}  // namespace swardwalk::mobile
