#include "mobile/walk/outline_draft.h"

#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>

#include "common/turf/kind.h"
#include "mobile/app/show.h"

namespace swardwalk::mobile {

namespace {

QJsonValue orNull(const std::optional<double>& value) {
  return value ? QJsonValue(*value) : QJsonValue();
}

std::optional<double> optional(const QJsonValue& value) {
  if (!value.isDouble()) return std::nullopt;
  return value.toDouble();
}

}  // namespace

std::string OutlineDraft::write() const {
  QJsonArray steps;
  for (const geo::Fix& fix : fixes) {
    steps.append(QJsonArray{qint64{fix.time.time_since_epoch().count()}, fix.position.longitude_deg,
                            fix.position.latitude_deg, orNull(fix.accuracy_m),
                            static_cast<int>(fix.quality)});
  }
  QJsonObject note{{"fixes", steps}};
  if (ofGreen) {
    note["of_green"] = true;
    note["name"] = text(greenName);
  } else {
    note["patch"] = text(sighting.patch);
    note["label"] = text(sighting.label);
    note["kind"] = text(turf::word(sighting.kind));
    note["green"] = text(sighting.green);
    note["note"] = text(sighting.source.note);
    note["new_patch"] = newPatch;
    QJsonArray depths;
    for (const double depth_mm : sighting.depths_mm) depths.append(depth_mm);
    note["depths_mm"] = depths;
  }
  return QJsonDocument(note).toJson(QJsonDocument::Compact).toStdString();
}

std::optional<OutlineDraft> OutlineDraft::read(const std::string& bytes) {
  const QJsonObject note = QJsonDocument::fromJson(QByteArray::fromStdString(bytes)).object();
  const QJsonArray steps = note["fixes"].toArray();
  if (steps.isEmpty()) return std::nullopt;
  OutlineDraft draft;
  draft.ofGreen = note["of_green"].toBool();
  draft.greenName = note["name"].toString().toStdString();
  draft.sighting.patch = note["patch"].toString().toStdString();
  draft.sighting.label = note["label"].toString().toStdString();
  draft.sighting.kind =
      turf::kindNamed(note["kind"].toString().toStdString()).value_or(turf::Kind::bare);
  draft.sighting.green = note["green"].toString().toStdString();
  draft.sighting.source.note = note["note"].toString().toStdString();
  draft.newPatch = note["new_patch"].toBool(true);
  for (const QJsonValue& depth_mm : note["depths_mm"].toArray())
    draft.sighting.depths_mm.push_back(depth_mm.toDouble());
  for (const QJsonValue& step : steps) {
    geo::Fix fix;
    fix.time = measure::Instant(std::chrono::milliseconds(step[0].toVariant().toLongLong()));
    fix.position = {step[2].toDouble(), step[1].toDouble()};
    fix.accuracy_m = optional(step[3]);
    fix.quality = static_cast<geo::FixQuality>(step[4].toInt());
    draft.fixes.push_back(fix);
  }
  return draft;
}

}  // namespace swardwalk::mobile
