#include "mobile/app/tablet_settings.h"

#include <QDir>
#include <QSettings>

#include "common/journal/folder.h"
#include "mobile/app/options.h"
#include "mobile/app/show.h"

namespace swardwalk::mobile {

TabletSettings::TabletSettings(const QString& directory)
    : file_(QDir(directory).filePath(QStringLiteral("tablet.ini"))) {
  const QSettings ini(file_, QSettings::IniFormat);
  person = ini.value("person").toString();
  device = ini.value("device").toString();
  letter = ini.value("letter").toString();
  shed = ini.value("shed").toString();
  dark = ini.value("dark", false).toBool();
  leftHanded = ini.value("left_handed", false).toBool();
  imperial = ini.value("imperial", false).toBool();
  if (const double length = ini.value("pace_m", 0.0).toDouble(); length > 0.0) pace_m = length;
  pace_u_m = ini.value("pace_u_m", 0.0).toDouble();
  const std::string id = ini.value("person_id").toString().toStdString();
  if (const auto known = journal::parseHex<16>(id)) {
    personId = *known;
  } else {
    journal::systemRandom(personId.data(), personId.size());
  }
}

void TabletSettings::take(const Options& options) {
  if (options.person && *options.person != person) {
    // Another person: another id, so that one name can be erased without the other.
    if (!person.isEmpty()) journal::systemRandom(personId.data(), personId.size());
    person = *options.person;
    pace_m.reset();
  }
  if (options.device) device = *options.device;
  if (options.letter) letter = *options.letter;
  if (options.shed) shed = *options.shed;
  if (options.dark) dark = *options.dark;
  if (options.leftHanded) leftHanded = *options.leftHanded;
  if (options.imperial) imperial = *options.imperial;
}

void TabletSettings::save() const {
  QSettings ini(file_, QSettings::IniFormat);
  ini.setValue("person", person);
  ini.setValue("device", device);
  ini.setValue("letter", letter);
  ini.setValue("shed", shed);
  ini.setValue("dark", dark);
  ini.setValue("left_handed", leftHanded);
  ini.setValue("imperial", imperial);
  ini.setValue("pace_m", pace_m.value_or(0.0));
  ini.setValue("pace_u_m", pace_u_m);
  ini.setValue("person_id", text(journal::hex(personId)));
  ini.sync();
}

}  // namespace swardwalk::mobile
