#pragma once

#include <QVariantMap>
#include <memory>

#include "mobile/app/clock.h"
#include "mobile/app/options.h"
#include "mobile/app/shell.h"
#include "mobile/app/store.h"
#include "mobile/app/tablet_settings.h"
#include "mobile/materials/material_form.h"
#include "mobile/materials/materials_model.h"
#include "mobile/patches/patch_model.h"
#include "mobile/patches/patches_model.h"
#include "mobile/photos/photo_model.h"
#include "mobile/position/position_source.h"
#include "mobile/position/whereabouts.h"
#include "mobile/repairs/choice_model.h"
#include "mobile/repairs/repair_form.h"
#include "mobile/repairs/repairs_model.h"
#include "mobile/shed/shed_log.h"
#include "mobile/shed/shed_model.h"
#include "mobile/walk/draw_model.h"
#include "mobile/walk/frames_model.h"
#include "mobile/walk/mark_model.h"
#include "mobile/walk/outline_model.h"
#include "mobile/walk/place_model.h"
#include "mobile/walk/walk_model.h"

namespace swardwalk::mobile {

/// All objects of the app, built and wired in one place: each gets what it needs through
/// its constructor, and tells others by signals that are connected here.
class App {
 public:
  /// Everything that comes from outside. `source` may not be null.
  App(const QString& directory, const Options& options, const Clock& clock,
      std::unique_ptr<PositionSource> source);

  /// What the window needs: a page for each model, or the words of the failure that
  /// keeps the journal shut.
  QVariantMap windowProperties();

  /// Why the journal can't be opened; nothing else of the app is there then.
  const std::optional<Failure>& failure() const { return store_.failure(); }

  Clock& clock() { return clock_; }
  Store& store() { return store_; }
  PositionSource& source() { return *source_; }
  Shell& shell() { return models_->shell; }
  WalkModel& walk() { return models_->walk; }
  MarkModel& mark() { return models_->mark; }
  PlaceModel& place() { return models_->place; }
  OutlineModel& outline() { return models_->outline; }
  DrawModel& draw() { return models_->draw; }
  FramesModel& frames() { return models_->frames; }
  PatchesModel& patches() { return models_->patches; }
  PatchModel& patch() { return models_->patch; }
  RepairsModel& repairs() { return models_->repairs; }
  RepairForm& repairForm() { return models_->repairForm; }
  ChoiceModel& choice() { return models_->choice; }
  MaterialsModel& materials() { return models_->materials; }
  MaterialForm& material() { return models_->material; }
  PhotoModel& photos() { return models_->photos; }
  ShedModel& shed() { return models_->shed; }

 private:
  /// What needs an open journal.
  struct Models {
    Models(Store& store, Whereabouts& whereabouts, const CameraFolder& camera);
    ShedLog log;
    Shell shell;
    WalkModel walk;
    MarkModel mark;
    PlaceModel place;
    OutlineModel outline;
    DrawModel draw;
    FramesModel frames;
    PatchesModel patches;
    PatchModel patch;
    RepairsModel repairs;
    RepairForm repairForm;
    ChoiceModel choice;
    MaterialsModel materials;
    MaterialForm material;
    PhotoModel photos;
    ShedModel shed;
  };
  void wire();

  Clock clock_;
  TabletSettings settings_;
  Store store_;
  std::unique_ptr<PositionSource> source_;
  Whereabouts whereabouts_;
  CameraFolder camera_;
  std::unique_ptr<Models> models_;
};

}  // namespace swardwalk::mobile
