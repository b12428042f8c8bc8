#pragma once

#include <QtQml/qqmlregistration.h>
#include <QObject>
#include <string>

#include "common/answers/plan.h"
#include "mobile/app/rows.h"
#include "mobile/app/show.h"
#include "mobile/app/store.h"

namespace swardwalk::mobile {

/// What the rail of Repairs shows of the chosen repair.
struct RepairShow {
  Q_GADGET
  QML_VALUE_TYPE(repairShow)
  Q_PROPERTY(bool there MEMBER there CONSTANT)
  Q_PROPERTY(QString why MEMBER why CONSTANT)
  Q_PROPERTY(QString title MEMBER title CONSTANT)
  Q_PROPERTY(QString choice MEMBER choice CONSTANT)
  Q_PROPERTY(swardwalk::mobile::SymbolLook look MEMBER look CONSTANT)
  Q_PROPERTY(QString reason MEMBER reason CONSTANT)
  Q_PROPERTY(QString warning MEMBER warning CONSTANT)
  Q_PROPERTY(bool done MEMBER done CONSTANT)
  Q_PROPERTY(bool canDo MEMBER canDo CONSTANT)

 public:
  bool there = false;
  QString why;     ///< "Next", "Chosen", "Done"
  QString title;   ///< "Hollow 7"
  QString choice;  ///< "Fill and sow"
  SymbolLook look;
  QString reason;
  QString warning;  ///< what could not be computed, in words
  bool done = false;
  bool canDo = false;  ///< the plan knows amounts, or needs none
};

/// Today's repairs from the plan, green by green, with totals and cautions. A tick
/// writes a repair with the planned amounts.
class RepairsModel : public QObject {
  Q_OBJECT
  QML_ELEMENT
  QML_UNCREATABLE("made at start")
  Q_PROPERTY(QString headline READ headline NOTIFY changed)
  Q_PROPERTY(QString second READ second NOTIFY changed)
  Q_PROPERTY(bool empty READ empty NOTIFY changed)
  /// Rows: sort, id, title, choice, second, look, fill, turf, seed, chosen, done.
  Q_PROPERTY(QAbstractItemModel* rows READ rows CONSTANT)
  /// What all repairs need together: material, amount, order.
  Q_PROPERTY(QAbstractItemModel* totals READ totals CONSTANT)
  /// What goes on the cart, trip by trip: title, weight, labels.
  Q_PROPERTY(QAbstractItemModel* loads READ loads CONSTANT)
  /// Each green's nitrogen: title, balance, warning, advice.
  Q_PROPERTY(QAbstractItemModel* hunger READ hunger CONSTANT)
  /// What the chosen repair needs: material, amount.
  Q_PROPERTY(QAbstractItemModel* amounts READ amounts CONSTANT)
  /// title, reason.
  Q_PROPERTY(QAbstractItemModel* cautions READ cautions CONSTANT)
  Q_PROPERTY(swardwalk::mobile::RepairShow next READ next NOTIFY changed)
  Q_PROPERTY(swardwalk::mobile::AdviceText saved READ savedText NOTIFY changed)

 public:
  enum Sort { GreenHeading, ToDo, DoneToday };
  Q_ENUM(Sort)

  struct Row {
    Sort sort = ToDo;
    QString id, title, choice, second;
    SymbolLook look;
    WrittenText fill, turf, seed, feed;
    bool chosen = false;
  };
  struct AmountRow {
    QString material;
    WrittenText amount;
  };
  struct TotalRow {
    QString material;
    WrittenText amount;
    QString order;  ///< "1 pack of 250 g"
  };
  struct LoadRow {
    QString title;  ///< "Load 1, Hollow"
    WrittenText weight;
    QString labels;  ///< "H2, H4 and H9"
  };
  struct HungerRow {
    QString title;    ///< "Nitrogen on Hollow"
    QString balance;  ///< "5.2 g/m² given, 0.9 clipped …"
    QString warning;
    QString advice;  ///< what to ask first, and what one feeding takes
  };
  struct CautionRow {
    QString text;
  };

  /// `store` must outlive this.
  explicit RepairsModel(Store& store, QObject* parent = nullptr);

  QString headline() const { return headline_; }
  QString second() const { return second_; }
  bool empty() const { return rows_.rows().empty(); }
  QAbstractItemModel* rows() { return &rows_; }
  QAbstractItemModel* totals() { return &totals_; }
  QAbstractItemModel* loads() { return &loads_; }
  QAbstractItemModel* hunger() { return &hunger_; }
  QAbstractItemModel* amounts() { return &amounts_; }
  QAbstractItemModel* cautions() { return &cautions_; }
  const RepairShow& next() const { return next_; }
  const AdviceText& savedText() const { return saved_; }

  Q_INVOKABLE void choose(const QString& patch);
  /// Writes the repair as planned; true once it is on disk (J2).
  Q_INVOKABLE bool doneAsPlanned(const QString& patch);
  Q_INVOKABLE bool takeBack(const QString& patch);
  Q_INVOKABLE void otherAmounts();
  Q_INVOKABLE void chooseOtherwise();
  Q_INVOKABLE void openMaterials();
  /// From the empty page to where patches are marked.
  Q_INVOKABLE void walk();
  /// The big action: the chosen one is done as planned, or was not done after all.
  Q_INVOKABLE bool act();

  void setVisible(bool visible);

 Q_SIGNALS:
  void changed();
  void repairWanted(const QString& patch);
  void choiceWanted(const QString& patch);
  void materialsWanted();
  void walkWanted();

 private:
  void rebuild();
  void fillFooter();
  void fillRail();
  const answers::PlannedPatch* planned(const std::string& patch);
  const course::Repair* doneToday(const course::Patch& patch) const;
  Row doneRow(const course::Patch& patch, const course::Repair& repair) const;

  Store* store_;
  Rows<Row> rows_;
  Rows<TotalRow> totals_;
  Rows<LoadRow> loads_;
  Rows<HungerRow> hunger_;
  Rows<AmountRow> amounts_;
  Rows<CautionRow> cautions_;
  QString headline_, second_;
  std::string chosen_;
  bool chosenByHand_ = false;
  RepairShow next_;
  AdviceText saved_;
  bool visible_ = false;
  bool stale_ = true;
};

/// Is there something to do with the patch today?
bool isWork(repair::Choice choice);

/// A planned repair as the record that says it was done.
course::Repair repairAsPlanned(const answers::PlannedPatch& planned, measure::Instant done);

}  // namespace swardwalk::mobile
