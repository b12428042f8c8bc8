#pragma once

#include <QtQml/qqmlregistration.h>
#include <QColor>
#include <QObject>
#include <QString>

#include "common/answers/progress.h"
#include "common/measure/write.h"

/// What the pages show: ready text and a few enums that QML maps to colour and shape.
namespace swardwalk::mobile {

/// The enums of common as QML knows them.
namespace Show {
Q_NAMESPACE
QML_ELEMENT

/// How much an answer wants a person's eye; see answers::Weight.
enum Weight { Calm, Good, Watch, Stop };
Q_ENUM_NS(Weight)

/// What is wrong with a place; see turf::Kind. `NoKind` where nobody chose yet.
enum Kind { NoKind = -1, Bare, Hungry, Dug, Washed };
Q_ENUM_NS(Kind)

/// The fill of a patch's symbol; see answers::Look.
enum Look { Open, Closing, SownWaiting, Up, Closed };
Q_ENUM_NS(Look)

Weight weightOf(answers::Weight weight);
Kind kindOf(turf::Kind kind);
Look lookOf(answers::Look look);
}  // namespace Show

/// A number ready to be shown: figure, doubt and unit apart (rule Q1).
struct WrittenText {
  Q_GADGET
  QML_VALUE_TYPE(writtenText)
  Q_PROPERTY(QString figure MEMBER figure CONSTANT)
  Q_PROPERTY(QString doubt MEMBER doubt CONSTANT)
  Q_PROPERTY(QString unit MEMBER unit CONSTANT)

 public:
  QString figure;
  QString doubt;  ///< "± 0.12", empty where it is unknown
  QString unit;

  static WrittenText from(const measure::Written& written);
  QString text() const;
  friend bool operator==(const WrittenText&, const WrittenText&) = default;
};

/// What a patch's symbol looks like.
struct SymbolLook {
  Q_GADGET
  QML_VALUE_TYPE(symbolLook)
  Q_PROPERTY(swardwalk::mobile::Show::Kind kind MEMBER kind CONSTANT)
  Q_PROPERTY(swardwalk::mobile::Show::Look look MEMBER look CONSTANT)
  Q_PROPERTY(double share MEMBER share CONSTANT)
  Q_PROPERTY(bool late MEMBER late CONSTANT)

 public:
  Show::Kind kind = Show::NoKind;
  Show::Look look = Show::Open;
  double share = 0.0;  ///< closed, 0..1; drawn as a ring where above 0
  bool late = false;

  static SymbolLook from(const answers::PatchProgress& patch);
  friend bool operator==(const SymbolLook&, const SymbolLook&) = default;
};

/// A sentence with the colour of its meaning: first the advice, then the reason.
struct AdviceText {
  Q_GADGET
  QML_VALUE_TYPE(adviceText)
  Q_PROPERTY(swardwalk::mobile::Show::Weight weight MEMBER weight CONSTANT)
  Q_PROPERTY(QString title MEMBER title CONSTANT)
  Q_PROPERTY(QString reason MEMBER reason CONSTANT)

 public:
  Show::Weight weight = Show::Calm;
  QString title;
  QString reason;
  friend bool operator==(const AdviceText&, const AdviceText&) = default;
};

/// std::string of common (UTF-8) as a QString.
inline QString text(std::string_view utf8) {
  return QString::fromUtf8(utf8.data(), static_cast<qsizetype>(utf8.size()));
}

/// A failure as a sentence or two for the screen.
AdviceText adviceFrom(const Failure& failure);

/// "1 record", "7 records".
QString counted(std::uint64_t count, const char* one, const char* many);

/// "Bare", "hungry" …: the kind as a word that begins a line, or stands in one.
QString kindTitle(turf::Kind kind);
QString kindWord(turf::Kind kind);

}  // namespace swardwalk::mobile
