#pragma once

#include <QString>
#include <array>
#include <cstdint>
#include <optional>

namespace swardwalk::mobile {

struct Options;

/// What this tablet remembers outside the journal: who walks, its name, the shed, the
/// look. Kept in `tablet.ini` of the data folder; use from the GUI thread.
class TabletSettings {
 public:
  explicit TabletSettings(const QString& directory);

  /// What the command line says is remembered from now on.
  void take(const Options& options);

  QString person, device, letter, shed;
  bool dark = false;
  bool leftHanded = false;
  bool imperial = false;
  /// The person's pace, metres, where it was found; its uncertainty beside it.
  std::optional<double> pace_m;
  double pace_u_m = 0.0;
  /// The person's random id; the name stands beside it (design.md, "The journal").
  std::array<std::uint8_t, 16> personId{};

  /// Writes the file. What can't be written is forgotten at the next start, no more.
  void save() const;

 private:
  QString file_;
};

}  // namespace swardwalk::mobile
