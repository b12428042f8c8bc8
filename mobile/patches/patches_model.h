#pragma once

#include <QtQml/qqmlregistration.h>
#include <QObject>
#include <set>
#include <string>

#include "mobile/app/rows.h"
#include "mobile/app/show.h"
#include "mobile/app/store.h"
#include "mobile/patches/same_model.h"

namespace swardwalk::mobile {

/// All patches by green, late first; closed ones in one line until somebody asks.
class PatchesModel : public QObject {
  Q_OBJECT
  QML_ELEMENT
  QML_UNCREATABLE("made at start")
  /// Rows of a sort: sort, id, title, second, look, answer, weight, figure, doubt.
  Q_PROPERTY(QAbstractItemModel* rows READ rows CONSTANT)
  /// The kinds to choose from: kind, text, chosen.
  Q_PROPERTY(QAbstractItemModel* filters READ filters CONSTANT)
  Q_PROPERTY(bool empty READ empty NOTIFY changed)
  Q_PROPERTY(QString headline READ headline NOTIFY changed)
  Q_PROPERTY(swardwalk::mobile::Show::Weight headlineWeight READ headlineWeight NOTIFY changed)
  /// How many are open on each green, in one line.
  Q_PROPERTY(QString overview READ overview NOTIFY changed)
  /// The question whether two of them are one.
  Q_PROPERTY(swardwalk::mobile::SameModel* same READ same CONSTANT)

 public:
  enum Sort { GreenHeading, LookNextLine, SameLine, PatchRow, ClosedLine };
  Q_ENUM(Sort)

  struct Row {
    Sort sort = PatchRow;
    QString id;      ///< patch, or green where the row is about one
    QString other;   ///< the second patch of a pair that may be one
    QString title;   ///< "Hollow 10", "Hollow", "2 closed: Hollow 1 and 11"
    QString second;  ///< "bare, 24 April", "482 m², 1.1 % bare", "Measure next: Hollow 7 (…)"
    SymbolLook look;
    QString answer;
    Show::Weight weight = Show::Calm;
    WrittenText area;
  };
  struct FilterRow {
    Show::Kind kind = Show::NoKind;
    QString title;
    bool chosen = false;
  };

  /// `store` must outlive this.
  explicit PatchesModel(Store& store, QObject* parent = nullptr);

  QAbstractItemModel* rows() { return &rows_; }
  QAbstractItemModel* filters() { return &filters_; }
  bool empty() const { return store_->state().patches.empty(); }
  QString headline() const { return headline_; }
  Show::Weight headlineWeight() const { return headlineWeight_; }
  QString overview() const { return overview_; }
  SameModel* same() { return &same_; }

  Q_INVOKABLE void filterBy(swardwalk::mobile::Show::Kind kind);
  Q_INVOKABLE void showClosed(const QString& green);
  Q_INVOKABLE void openPatch(const QString& id);
  Q_INVOKABLE void showPlan();

  /// Pages that nobody sees are filled when they are opened.
  void setVisible(bool visible);

 Q_SIGNALS:
  void changed();
  void patchWanted(const QString& id);
  void planWanted();

 private:
  void rebuild();

  Store* store_;
  SameModel same_;
  Rows<Row> rows_;
  Rows<FilterRow> filters_;
  Show::Kind kind_ = Show::NoKind;
  std::set<std::string> closedShown_;
  QString headline_;
  Show::Weight headlineWeight_ = Show::Calm;
  QString overview_;
  bool visible_ = false;
  bool stale_ = true;
};

}  // namespace swardwalk::mobile
