#pragma once

#include <QtQml/qqmlregistration.h>
#include <QJsonObject>
#include <QObject>
#include <QTemporaryDir>
#include <memory>
#include <optional>

#include "tests/mobile/trial_course.h"

namespace swardwalk::mobile {

/// The app on a folder of its own, for tests that touch its pages.
class TrialApp : public QObject {
  Q_OBJECT
  Q_PROPERTY(swardwalk::mobile::Shell* shell READ shell NOTIFY opened)
  Q_PROPERTY(swardwalk::mobile::WalkModel* walk READ walk NOTIFY opened)
  Q_PROPERTY(swardwalk::mobile::MarkModel* mark READ mark NOTIFY opened)
  Q_PROPERTY(swardwalk::mobile::PlaceModel* place READ place NOTIFY opened)
  Q_PROPERTY(swardwalk::mobile::OutlineModel* outline READ outline NOTIFY opened)
  Q_PROPERTY(swardwalk::mobile::DrawModel* draw READ draw NOTIFY opened)
  Q_PROPERTY(swardwalk::mobile::FramesModel* frames READ frames NOTIFY opened)
  Q_PROPERTY(swardwalk::mobile::PatchesModel* patches READ patches NOTIFY opened)
  Q_PROPERTY(swardwalk::mobile::PatchModel* patch READ patch NOTIFY opened)
  Q_PROPERTY(swardwalk::mobile::RepairsModel* repairs READ repairs NOTIFY opened)
  Q_PROPERTY(swardwalk::mobile::RepairForm* repairForm READ repairForm NOTIFY opened)
  Q_PROPERTY(swardwalk::mobile::ChoiceModel* choice READ choice NOTIFY opened)
  Q_PROPERTY(swardwalk::mobile::MaterialsModel* materials READ materials NOTIFY opened)
  Q_PROPERTY(swardwalk::mobile::MaterialForm* material READ material NOTIFY opened)
  Q_PROPERTY(swardwalk::mobile::PhotoModel* photos READ photos NOTIFY opened)
  Q_PROPERTY(swardwalk::mobile::ShedModel* shed READ shed NOTIFY opened)
  Q_PROPERTY(QString pictures READ pictures CONSTANT)

 public:
  using QObject::QObject;

  Shell* shell() { return trial_ ? &trial_->app().shell() : nullptr; }
  WalkModel* walk() { return trial_ ? &trial_->app().walk() : nullptr; }
  MarkModel* mark() { return trial_ ? &trial_->app().mark() : nullptr; }
  PlaceModel* place() { return trial_ ? &trial_->app().place() : nullptr; }
  OutlineModel* outline() { return trial_ ? &trial_->app().outline() : nullptr; }
  DrawModel* draw() { return trial_ ? &trial_->app().draw() : nullptr; }
  FramesModel* frames() { return trial_ ? &trial_->app().frames() : nullptr; }
  PatchesModel* patches() { return trial_ ? &trial_->app().patches() : nullptr; }
  PatchModel* patch() { return trial_ ? &trial_->app().patch() : nullptr; }
  RepairsModel* repairs() { return trial_ ? &trial_->app().repairs() : nullptr; }
  RepairForm* repairForm() { return trial_ ? &trial_->app().repairForm() : nullptr; }
  ChoiceModel* choice() { return trial_ ? &trial_->app().choice() : nullptr; }
  MaterialsModel* materials() { return trial_ ? &trial_->app().materials() : nullptr; }
  PhotoModel* photos() { return trial_ ? &trial_->app().photos() : nullptr; }
  MaterialForm* material() { return trial_ ? &trial_->app().material() : nullptr; }
  ShedModel* shed() { return trial_ ? &trial_->app().shed() : nullptr; }
  /// Where pictures of the pages are kept to be looked at.
  QString pictures() const;

  Q_INVOKABLE void open(bool withCourse);
  Q_INVOKABLE void stand(double east_m, double north_m, double accuracy_m);
  Q_INVOKABLE void wait(int seconds);
  /// The tablet's camera takes so many, five hours apart, the last one now.
  Q_INVOKABLE void takePictures(int count);
  /// Records of a type in the journal, read by a second journal object on the same file.
  Q_INVOKABLE int count(const QString& type);
  /// A property of the last one, as text; empty where it is absent.
  Q_INVOKABLE QString last(const QString& type, const QString& property);
  /// A property that is a list, its values divided by commas.
  Q_INVOKABLE QString lastList(const QString& type, const QString& property);
  /// What the server's command line says about a green in `progress`, as text.
  Q_INVOKABLE QString serverGreen(const QString& green, const QString& key);
  /// How many it lists; -1 where the program was not built.
  Q_INVOKABLE int serverCount(const QString& list);
  /// And of a patch.
  Q_INVOKABLE QString serverPatch(const QString& patch, const QString& key);
  /// What the server's command line says about a patch in `progress`: its verdict; or
  /// "no server" where the program was not built.
  Q_INVOKABLE QString serverVerdict(const QString& patch);

 Q_SIGNALS:
  void opened();

 private:
  std::optional<QJsonObject> askServer(QString& trouble);
  QString fromServer(const QString& list, const QString& named, const QString& name,
                     const QString& key);

  QTemporaryDir camera_;
  std::unique_ptr<Trial> trial_;
};

}  // namespace swardwalk::mobile
