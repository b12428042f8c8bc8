#pragma once

#include <QtQml/qqmlregistration.h>
#include <QObject>
#include <QVariantList>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "mobile/app/number_field.h"
#include "mobile/app/rows.h"
#include "mobile/app/show.h"
#include "mobile/app/store.h"
#include "mobile/materials/materials_model.h"

namespace swardwalk::mobile {

/// What the form shows beside its fields.
struct MaterialShow {
  Q_GADGET
  QML_VALUE_TYPE(materialShow)
  Q_PROPERTY(QString title MEMBER title CONSTANT)
  Q_PROPERTY(swardwalk::mobile::Shelves::Shelf shelf MEMBER shelf CONSTANT)
  Q_PROPERTY(bool isNew MEMBER isNew CONSTANT)
  Q_PROPERTY(bool bulk MEMBER bulk CONSTANT)
  Q_PROPERTY(QString left MEMBER left CONSTANT)
  Q_PROPERTY(QString missing MEMBER missing CONSTANT)
  Q_PROPERTY(swardwalk::mobile::AdviceText trouble MEMBER trouble CONSTANT)

 public:
  QString title;  ///< "Bent 26-4", "New seed lot"
  Shelves::Shelf shelf = Shelves::SeedLot;
  bool isNew = false;  ///< an existing one keeps its name: the name is what it is known by
  bool bulk = false;
  QString left;     ///< "0.06 kg left by the records"
  QString missing;  ///< "Still needed: the name, the purity"; empty: it can be saved
  AdviceText trouble;
};

/// One material, entered or corrected from its label. What is left empty stays unknown. A
/// stock that nobody counts anew stays as the records have it.
class MaterialForm : public QObject {
  Q_OBJECT
  QML_ELEMENT
  QML_UNCREATABLE("made at start")
  Q_PROPERTY(swardwalk::mobile::MaterialShow show READ show NOTIFY changed)
  Q_PROPERTY(QString name READ name WRITE setName NOTIFY changed)
  Q_PROPERTY(QString tested READ tested WRITE setTested NOTIFY changed)
  Q_PROPERTY(QString packs READ packs WRITE setPacks NOTIFY changed)
  /// The number fields of this sort of material, in the order of its label.
  Q_PROPERTY(QVariantList fields READ fields NOTIFY begun)
  /// name, picked, share (a number field, of those picked in a blend).
  Q_PROPERTY(QAbstractItemModel* grasses READ grasses CONSTANT)
  Q_PROPERTY(bool blend READ blend NOTIFY changed)

 public:
  /// `store` must outlive this.
  explicit MaterialForm(Store& store, QObject* parent = nullptr);

  const MaterialShow& show() const { return show_; }
  QString name() const { return name_; }
  void setName(const QString& name);
  QString tested() const { return tested_; }
  void setTested(const QString& tested);
  QString packs() const { return packs_; }
  void setPacks(const QString& packs);
  QVariantList fields() const;
  QAbstractItemModel* grasses() { return &grasses_; }
  bool blend() const;

  NumberField* purity() { return &purity_; }
  NumberField* germination() { return &germination_; }
  NumberField* seedsLow() { return &seedsLow_; }
  NumberField* seedsHigh() { return &seedsHigh_; }
  NumberField* nitrogen() { return &nitrogen_; }
  NumberField* phosphate() { return &phosphate_; }
  NumberField* potash() { return &potash_; }
  NumberField* labelRate() { return &labelRate_; }
  NumberField* ceiling() { return &ceiling_; }
  NumberField* soluble() { return &soluble_; }
  NumberField* density() { return &density_; }
  NumberField* settles() { return &settles_; }
  NumberField* thickness() { return &thickness_; }
  NumberField* piece() { return &piece_; }
  NumberField* stock() { return &stock_; }
  NumberField* turfStock() { return &turfStock_; }
  /// The share of a grass in a blend.
  NumberField* shareOf(const QString& grass);

  /// An empty `name` begins a new one.
  void begin(Shelves::Shelf shelf, const QString& name);

  Q_INVOKABLE void toggleGrass(const QString& name);
  Q_INVOKABLE void toggleBulk();
  /// True once the material is on disk (J2).
  Q_INVOKABLE bool save();
  Q_INVOKABLE void back();

 Q_SIGNALS:
  void begun();
  void changed();
  void closed();

 private:
  struct Grass {
    QString name;
    bool picked = false;
    std::shared_ptr<NumberField> share;
  };

  void clear();
  void addGrass(const QString& name);
  void pickGrass(const std::string& name, double share);
  void fillFrom(const turf::SeedLot& lot);
  void fillFrom(const turf::Feed& feed);
  void fillFrom(const turf::Fill& fill);
  void fillFrom(const turf::Turf& turf);
  std::vector<const Grass*> picked() const;
  QStringList missing() const;
  void refresh();
  Result<void> check() const;
  bool isTaken() const;
  struct Counted {
    std::optional<double> stock;
    std::optional<measure::Instant> when;
  };
  /// Counted now, else as it was.
  Counted counted() const;
  Result<journal::Record> write();

  Store* store_;
  NumberField purity_, germination_, seedsLow_, seedsHigh_;
  NumberField nitrogen_, phosphate_, potash_, labelRate_, ceiling_, soluble_;
  NumberField density_, settles_, thickness_, piece_, stock_, turfStock_;
  Rows<Grass> grasses_;
  bool sharesByNumber_ = false;
  std::optional<double> stated_;  ///< stock of the last count
  QString name_, tested_, packs_;
  MaterialShow show_;
};

}  // namespace swardwalk::mobile
