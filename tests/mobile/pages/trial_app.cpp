#include "tests/mobile/pages/trial_app.h"

#include <QDateTime>
#include <QFileInfo>
#include <QImage>
#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>
#include <QPainter>
#include <QProcess>

#include "common/course/course_fold.h"
#include "common/journal/folder.h"

namespace swardwalk::mobile {

QString TrialApp::pictures() const { return QStringLiteral(SWARDWALK_PICTURES); }

void TrialApp::open(bool withCourse) {
  trial_.reset();
  Options options;
  options.pictures = camera_.path();
  trial_ =
      std::make_unique<Trial>(withCourse ? Trial::Begin::withCourse : Trial::Begin::blank, options);
  Q_EMIT opened();
}

void TrialApp::stand(double east_m, double north_m, double accuracy_m) {
  trial_->stand(east_m, north_m, accuracy_m);
}

void TrialApp::takePictures(int count) {
  for (int number = 0; number < count; ++number) {
    QImage scene(640, number % 3 == 2 ? 960 : 480, QImage::Format_RGB32);
    scene.fill(QColor::fromHsv(95 + 9 * number, 150, 110));
    QPainter painter(&scene);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setBrush(QColor(222, 204, 160));
    painter.setPen(Qt::NoPen);
    painter.drawEllipse(QPoint(320, 240), 90 + 20 * number, 150 - 12 * number);
    painter.end();
    const QString path = camera_.filePath(QStringLiteral("%1.jpg").arg(number));
    scene.save(path);
    QFile file(path);
    if (!file.open(QIODevice::ReadWrite)) continue;
    const auto taken = trial_->app().store().now() - std::chrono::hours(5 * number);
    file.setFileTime(QDateTime::fromMSecsSinceEpoch(taken.time_since_epoch().count()),
                     QFileDevice::FileModificationTime);
  }
}

void TrialApp::wait(int seconds) { trial_->wait(std::chrono::seconds(seconds)); }

int TrialApp::count(const QString& type) {
  course::CourseFold fold;
  auto journal =
      journal::openFolder(trial_->folder().toStdString(), journal::Missing::refuse, fold);
  if (!journal) return -1;
  int count = 0;
  const auto read = journal->forEach([&](const journal::Record& record) {
    if (text(record.content.type) == type) ++count;
    return true;
  });
  return read ? count : -1;
}

QString TrialApp::last(const QString& type, const QString& property) {
  const auto bodies = trial_->bodies(type.toStdString());
  if (bodies.empty()) return {};
  const QJsonObject body =
      QJsonDocument::fromJson(QByteArray::fromStdString(bodies.back())).object();
  return body["properties"].toObject()[property].toVariant().toString();
}

QString TrialApp::lastList(const QString& type, const QString& property) {
  const auto bodies = trial_->bodies(type.toStdString());
  if (bodies.empty()) return {};
  const QJsonObject body =
      QJsonDocument::fromJson(QByteArray::fromStdString(bodies.back())).object();
  QStringList values;
  for (const QJsonValue& one : body["properties"].toObject()[property].toArray())
    values << one.toVariant().toString();
  return values.join(QLatin1Char(','));
}

QString TrialApp::serverGreen(const QString& green, const QString& key) {
  return fromServer(QStringLiteral("greens"), QStringLiteral("green"), green, key);
}

QString TrialApp::serverPatch(const QString& patch, const QString& key) {
  return fromServer(QStringLiteral("patches"), QStringLiteral("patch"), patch, key);
}

QString TrialApp::serverVerdict(const QString& patch) {
  return serverPatch(patch, QStringLiteral("verdict"));
}

std::optional<QJsonObject> TrialApp::askServer(QString& trouble) {
  const QString program = QStringLiteral(SWARDWALK_SERVER);
  trouble = QStringLiteral("no server");
  if (!QFileInfo::exists(program)) return std::nullopt;
  QProcess process;
  process.start(program,
                {"progress", "--data", trial_->folder(), "--on", "2027-04-29", "--format", "json"});
  const bool done = process.waitForFinished() && process.exitCode() == 0;
  trouble = QString::fromUtf8(process.readAllStandardError());
  if (!done) return std::nullopt;
  return QJsonDocument::fromJson(process.readAllStandardOutput()).object();
}

int TrialApp::serverCount(const QString& list) {
  QString trouble;
  const auto answer = askServer(trouble);
  return answer ? static_cast<int>((*answer)[list].toArray().size()) : -1;
}

QString TrialApp::fromServer(const QString& list, const QString& named, const QString& name,
                             const QString& key) {
  QString trouble;
  const auto answer = askServer(trouble);
  if (!answer) return trouble;
  for (const QJsonValue& one : (*answer)[list].toArray()) {
    if (one[named].toString() == name) return one[key].toVariant().toString();
  }
  return QStringLiteral("not there");
}

}  // namespace swardwalk::mobile
