#pragma once

#include <QtQml/qqmlregistration.h>
#include <QObject>
#include <QString>

#include "mobile/app/show.h"

namespace swardwalk::mobile {

/// What Mark shows beside its fields.
struct MarkShow {
  Q_GADGET
  QML_VALUE_TYPE(markShow)
  Q_PROPERTY(QString title MEMBER title CONSTANT)
  Q_PROPERTY(QString subject MEMBER subject CONSTANT)
  Q_PROPERTY(swardwalk::mobile::WrittenText area MEMBER area CONSTANT)
  Q_PROPERTY(QString noArea MEMBER noArea CONSTANT)
  Q_PROPERTY(swardwalk::mobile::AdviceText advice MEMBER advice CONSTANT)
  Q_PROPERTY(QString depth MEMBER depth CONSTANT)
  Q_PROPERTY(QString share MEMBER share CONSTANT)
  Q_PROPERTY(swardwalk::mobile::AdviceText same MEMBER same CONSTANT)
  Q_PROPERTY(bool canBeSame MEMBER canBeSame CONSTANT)
  Q_PROPERTY(QString sameButton MEMBER sameButton CONSTANT)
  Q_PROPERTY(swardwalk::mobile::AdviceText trouble MEMBER trouble CONSTANT)
  Q_PROPERTY(bool canSave MEMBER canSave CONSTANT)
  Q_PROPERTY(bool hasPlan MEMBER hasPlan CONSTANT)

 public:
  QString title;    ///< "Mark on Hollow", "Measure Hollow 7"
  QString subject;  ///< "Dug, new, where you stand"
  WrittenText area;
  QString noArea;     ///< "Not measured" where there is no area
  AdviceText advice;  ///< about the way of measuring
  QString depth;      ///< "Depth 30 mm", "Depth 42 ± 5 mm", or empty
  QString share;      ///< "40 % bare"; empty: all of it
  AdviceText same;    ///< is it another look at a patch that is known?
  bool canBeSame = false;
  QString sameButton;  ///< "It is Hollow 6"
  AdviceText trouble;  ///< saving failed: what happened, what is safe, what to do
  bool canSave = false;
  bool hasPlan = false;
};

}  // namespace swardwalk::mobile
