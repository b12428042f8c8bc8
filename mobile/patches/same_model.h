#pragma once

#include <QtQml/qqmlregistration.h>
#include <QObject>
#include <optional>
#include <string>

#include "mobile/app/show.h"
#include "mobile/app/store.h"

namespace swardwalk::mobile {

/// The question whether two known patches are one, as it is shown.
struct SameShow {
  Q_GADGET
  QML_VALUE_TYPE(sameShow)
  Q_PROPERTY(bool asked MEMBER asked CONSTANT)
  Q_PROPERTY(QString title MEMBER title CONSTANT)
  Q_PROPERTY(QString reason MEMBER reason CONSTANT)
  Q_PROPERTY(QString limits MEMBER limits CONSTANT)
  Q_PROPERTY(QString change MEMBER change CONSTANT)
  Q_PROPERTY(swardwalk::mobile::AdviceText saved MEMBER saved CONSTANT)
  Q_PROPERTY(bool undoable MEMBER undoable CONSTANT)

 public:
  bool asked = false;
  QString title;   ///< "Hollow 7 and Hollow 12b"
  QString reason;  ///< "0.8 m away, dug as well."
  QString limits;  ///< how much the positions can tell
  QString change;  ///< what becomes of them
  AdviceText saved;
  bool undoable = false;  ///< what was joined last can be taken apart
};

/// Asks about a pair that answers suggest, and writes down what the person decides (X4).
class SameModel : public QObject {
  Q_OBJECT
  QML_ELEMENT
  QML_UNCREATABLE("made at start")
  Q_PROPERTY(swardwalk::mobile::SameShow show READ show NOTIFY changed)

 public:
  /// `store` must outlive this.
  explicit SameModel(Store& store, QObject* parent = nullptr);

  const SameShow& show() const { return show_; }

  /// Opens the question; a pair that is not suggested (any more) opens none.
  Q_INVOKABLE void ask(const QString& patch, const QString& other);
  /// Leaves them two.
  Q_INVOKABLE void leave();
  /// They are one: on disk when it returns (J2).
  Q_INVOKABLE bool join();
  /// Takes apart what was joined last.
  Q_INVOKABLE bool takeBack();

 Q_SIGNALS:
  void changed();

 private:
  Store* store_;
  SameShow show_;
  std::string patch_, other_;
  std::optional<journal::Digest> joined_;
};

}  // namespace swardwalk::mobile
