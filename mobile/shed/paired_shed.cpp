#include "mobile/shed/paired_shed.h"

#include <QFile>
#include <QJsonDocument>
#include <QJsonObject>

#include "common/journal/durable_file.h"

namespace swardwalk::mobile {

namespace {

std::string fileIn(const std::string& directory) { return directory + "/shed.json"; }

}  // namespace

std::optional<PairedShed> pairedShed(const std::string& directory) {
  QFile file(QString::fromStdString(fileIn(directory)));
  if (!file.open(QIODevice::ReadOnly)) return std::nullopt;
  const QJsonObject kept = QJsonDocument::fromJson(file.readAll()).object();
  PairedShed shed{kept["fingerprint"].toString().toStdString(),
                  kept["token"].toString().toStdString()};
  if (shed.fingerprint.empty() || shed.token.empty()) return std::nullopt;
  return shed;
}

Result<void> keepPairedShed(const std::string& directory, const PairedShed& shed) {
  const QJsonObject kept{{"fingerprint", QString::fromStdString(shed.fingerprint)},
                         {"token", QString::fromStdString(shed.token)}};
  return journal::replaceDurably(fileIn(directory),
                                 QJsonDocument(kept).toJson(QJsonDocument::Compact).toStdString());
}

}  // namespace swardwalk::mobile
