#include "mobile/app/app.h"

#include <QStandardPaths>

namespace swardwalk::mobile {

namespace {

TabletSettings settingsFor(const QString& directory, const Options& options) {
  TabletSettings settings(directory);
  settings.take(options);
  return settings;
}

/// Where the tablet's camera puts its pictures.
QStringList pictureFolders(const Options& options) {
  if (!options.pictures.isEmpty()) return {options.pictures};
  return QStandardPaths::standardLocations(QStandardPaths::PicturesLocation);
}

}  // namespace

App::Models::Models(Store& store, Whereabouts& whereabouts, const CameraFolder& camera)
    : log(store),
      shell(store, log),
      walk(store, whereabouts),
      mark(store, whereabouts, walk),
      place(store, whereabouts, mark),
      outline(store, whereabouts, walk, mark),
      draw(store, walk, mark),
      frames(store, whereabouts, walk),
      patches(store),
      patch(store),
      repairs(store),
      repairForm(store),
      choice(store),
      materials(store),
      material(store),
      photos(store, camera),
      shed(store, log, camera) {}

App::App(const QString& directory, const Options& options, const Clock& clock,
         std::unique_ptr<PositionSource> source)
    : clock_(clock),
      settings_(settingsFor(directory, options)),
      store_(directory, settings_, clock_),
      source_(std::move(source)),
      whereabouts_(*source_, clock_),
      camera_(pictureFolders(options)) {
  if (store_.failure()) return;
  settings_.save();
  models_ = std::make_unique<Models>(store_, whereabouts_, camera_);
  wire();
}

void App::wire() {
  Shell& shell = models_->shell;
  MarkModel& mark = models_->mark;
  OutlineModel& outline = models_->outline;
  PatchModel& patch = models_->patch;
  WalkModel& walk = models_->walk;
  RepairForm& form = models_->repairForm;

  const auto openMark = [&shell, &mark](const QString& id) {
    mark.begin(id.toStdString());
    shell.openTask(Shell::Mark);
  };
  const auto openRepair = [&shell, &form](const QString& id) {
    form.begin(id.toStdString());
    shell.openTask(Shell::Repair);
  };
  QObject::connect(&walk, &WalkModel::markWanted, &shell, openMark);
  QObject::connect(&patch, &PatchModel::measureWanted, &shell, openMark);
  QObject::connect(&patch, &PatchModel::repairWanted, &shell, openRepair);
  QObject::connect(&models_->repairs, &RepairsModel::repairWanted, &shell, openRepair);
  PhotoModel& photos = models_->photos;
  const auto openPhotos = [&shell, &photos](const QString& id) {
    photos.begin(id.toStdString());
    shell.openTask(Shell::Photos);
  };
  QObject::connect(&patch, &PatchModel::photoWanted, &shell, openPhotos);
  QObject::connect(&walk, &WalkModel::photoWanted, &shell, openPhotos);
  QObject::connect(&photos, &PhotoModel::closed, &shell,
                   [&shell] { shell.openTask(Shell::NoTask); });
  ChoiceModel& choice = models_->choice;
  const auto openChoice = [&shell, &choice](const QString& id) {
    choice.begin(id.toStdString());
    shell.openTask(Shell::Choose);
  };
  QObject::connect(&patch, &PatchModel::choiceWanted, &shell, openChoice);
  QObject::connect(&models_->repairs, &RepairsModel::choiceWanted, &shell, openChoice);
  QObject::connect(&choice, &ChoiceModel::closed, &shell,
                   [&shell] { shell.openTask(Shell::NoTask); });
  QObject::connect(&mark, &MarkModel::closed, &shell, [&shell] { shell.openTask(Shell::NoTask); });
  QObject::connect(&mark, &MarkModel::outlineWanted, &shell, [&shell, &outline] {
    outline.beginPatch();
    shell.openTask(Shell::Outline);
  });
  DrawModel& draw = models_->draw;
  QObject::connect(&mark, &MarkModel::drawingWanted, &shell, [&shell, &draw] {
    draw.begin();
    shell.openTask(Shell::Draw);
  });
  QObject::connect(&draw, &DrawModel::saved, &mark, &MarkModel::back);
  const auto toMark = [&shell] { shell.openTask(Shell::Mark); };
  QObject::connect(&draw, &DrawModel::left, &shell, toMark);
  QObject::connect(&mark, &MarkModel::depthsWanted, &shell,
                   [&shell] { shell.openTask(Shell::Depths); });
  QObject::connect(mark.depths(), &DepthsModel::closed, &shell, toMark);
  FramesModel& frames = models_->frames;
  QObject::connect(&walk, &WalkModel::framesWanted, &shell, [&shell, &frames] {
    frames.begin();
    shell.openTask(Shell::Frames);
  });
  QObject::connect(&frames, &FramesModel::closed, &shell,
                   [&shell] { shell.openTask(Shell::NoTask); });
  PlaceModel& place = models_->place;
  QObject::connect(&mark, &MarkModel::placeWanted, &shell, [&shell, &place] {
    place.begin();
    shell.openTask(Shell::Place);
  });
  QObject::connect(&place, &PlaceModel::closed, &shell, toMark);
  QObject::connect(&walk, &WalkModel::draftWanted, &shell, [&shell, &outline] {
    if (outline.resume()) shell.openTask(Shell::Outline);
  });
  QObject::connect(&walk, &WalkModel::greenWalkWanted, &shell, [&shell, &outline] {
    outline.beginGreen();
    shell.openTask(Shell::Outline);
  });
  QObject::connect(&walk, &WalkModel::shedWanted, &shell,
                   [&shell] { shell.openPage(Shell::Shed); });
  QObject::connect(&outline, &OutlineModel::closed, &mark, &MarkModel::back);
  QObject::connect(&outline, &OutlineModel::tapeWanted, &shell, toMark);
  QObject::connect(&form, &RepairForm::closed, &shell, [&shell] { shell.openTask(Shell::NoTask); });
  MaterialsModel& materials = models_->materials;
  MaterialForm& material = models_->material;
  const auto openMaterials = [&shell, &materials] {
    materials.begin();
    shell.openTask(Shell::Materials);
  };
  QObject::connect(&models_->repairs, &RepairsModel::materialsWanted, &shell, openMaterials);
  QObject::connect(&materials, &MaterialsModel::closed, &shell,
                   [&shell] { shell.openTask(Shell::NoTask); });
  QObject::connect(&materials, &MaterialsModel::formWanted, &shell,
                   [&shell, &material](Shelves::Shelf shelf, const QString& name) {
                     material.begin(shelf, name);
                     shell.openTask(Shell::Material);
                   });
  QObject::connect(&material, &MaterialForm::closed, &shell, openMaterials);
  QObject::connect(&models_->patches, &PatchesModel::patchWanted, &patch,
                   [&patch](const QString& id) { patch.open(id.toStdString()); });
  const auto openWalk = [&shell] { shell.openPage(Shell::Walk); };
  QObject::connect(&models_->patches, &PatchesModel::planWanted, &shell, openWalk);
  QObject::connect(&models_->repairs, &RepairsModel::walkWanted, &shell, openWalk);

  QObject::connect(&models_->shed, &ShedModel::sameWanted, &shell,
                   [this, &shell](const QString& one, const QString& other) {
                     shell.openPage(Shell::Patches);
                     models_->patches.same()->ask(one, other);
                   });

  const auto tellVisible = [this, &shell] {
    const bool noTask = shell.task() == Shell::NoTask;
    models_->patches.setVisible(noTask && shell.page() == Shell::Patches);
    models_->repairs.setVisible(noTask && shell.page() == Shell::Repairs);
  };
  QObject::connect(&shell, &Shell::pageChanged, &shell, tellVisible);
  QObject::connect(&shell, &Shell::lookChanged, &patch,
                   [&shell, &patch] { patch.setDark(shell.dark()); });
  patch.setDark(shell.dark());

  const auto tellUnits = [this] { whereabouts_.setUnits(store_.units()); };
  QObject::connect(&shell, &Shell::lookChanged, &whereabouts_, tellUnits);
  tellUnits();

  if (source_->tellsNow()) {
    QObject::connect(&whereabouts_, &Whereabouts::moved, &shell, [this](const geo::Fix& fix) {
      store_.clockIs(journal::ClockSource::satellite, (fix.time - clock_.now()).count());
    });
  }
}

QVariantMap App::windowProperties() {
  if (!models_) return {{"failure", QVariant::fromValue(adviceFrom(*store_.failure()))}};
  return {{"shell", QVariant::fromValue(&models_->shell)},
          {"walk", QVariant::fromValue(&models_->walk)},
          {"mark", QVariant::fromValue(&models_->mark)},
          {"place", QVariant::fromValue(&models_->place)},
          {"outline", QVariant::fromValue(&models_->outline)},
          {"draw", QVariant::fromValue(&models_->draw)},
          {"frames", QVariant::fromValue(&models_->frames)},
          {"patches", QVariant::fromValue(&models_->patches)},
          {"patch", QVariant::fromValue(&models_->patch)},
          {"repairs", QVariant::fromValue(&models_->repairs)},
          {"repairForm", QVariant::fromValue(&models_->repairForm)},
          {"choice", QVariant::fromValue(&models_->choice)},
          {"materials", QVariant::fromValue(&models_->materials)},
          {"material", QVariant::fromValue(&models_->material)},
          {"photos", QVariant::fromValue(&models_->photos)},
          {"shed", QVariant::fromValue(&models_->shed)}};
}

}  // namespace swardwalk::mobile
