#pragma once

#include <QtQml/qqmlregistration.h>
#include <QObject>
#include <QString>

#include "mobile/app/show.h"

namespace swardwalk::mobile {

/// The patch that the rail of Walk speaks of.
struct NearPatch {
  Q_GADGET
  QML_VALUE_TYPE(nearPatch)
  Q_PROPERTY(bool there MEMBER there CONSTANT)
  Q_PROPERTY(QString why MEMBER why CONSTANT)
  Q_PROPERTY(swardwalk::mobile::SymbolLook look MEMBER look CONSTANT)
  Q_PROPERTY(QString distance MEMBER distance CONSTANT)
  Q_PROPERTY(QString compass MEMBER compass CONSTANT)
  Q_PROPERTY(double bearing MEMBER bearing CONSTANT)
  Q_PROPERTY(QString title MEMBER title CONSTANT)
  Q_PROPERTY(QString answer MEMBER answer CONSTANT)
  Q_PROPERTY(swardwalk::mobile::Show::Weight weight MEMBER weight CONSTANT)
  Q_PROPERTY(swardwalk::mobile::WrittenText area MEMBER area CONSTANT)
  Q_PROPERTY(QString seen MEMBER seen CONSTANT)
  Q_PROPERTY(bool maybeSame MEMBER maybeSame CONSTANT)

 public:
  bool there = false;
  QString why;  ///< "Nearest not yet seen", "Chosen"
  SymbolLook look;
  QString distance;  ///< empty without a position
  QString compass;
  double bearing = 0.0;
  QString title;  ///< "Hollow 10, bare"
  QString answer;
  Show::Weight weight = Show::Calm;
  WrittenText area;
  QString seen;            ///< "on 24 April"
  bool maybeSame = false;  ///< near enough to be the patch one stands at
  std::string id;
};

/// What Walk shows beside its plan.
struct WalkShow {
  Q_GADGET
  QML_VALUE_TYPE(walkShow)
  Q_PROPERTY(bool hasGreen MEMBER hasGreen CONSTANT)
  Q_PROPERTY(QString green MEMBER green CONSTANT)
  Q_PROPERTY(QString rain MEMBER rain CONSTANT)
  Q_PROPERTY(QString round MEMBER round CONSTANT)
  Q_PROPERTY(double seen MEMBER seen CONSTANT)
  Q_PROPERTY(bool running MEMBER running CONSTANT)
  Q_PROPERTY(bool severalGreens MEMBER severalGreens CONSTANT)
  Q_PROPERTY(QString saved MEMBER saved CONSTANT)
  Q_PROPERTY(swardwalk::mobile::Show::Weight savedWeight MEMBER savedWeight CONSTANT)
  Q_PROPERTY(bool canUndo MEMBER canUndo CONSTANT)
  Q_PROPERTY(bool canPhoto MEMBER canPhoto CONSTANT)
  Q_PROPERTY(QString draft MEMBER draft CONSTANT)
  Q_PROPERTY(QString pin MEMBER pin CONSTANT)

 public:
  bool hasGreen = false;
  QString green;
  QString rain;
  QString round;      ///< "77 % seen, 9 of 12 patches"
  double seen = 0.0;  ///< 0..1, for the bar
  bool running = false;
  bool severalGreens = false;
  QString saved;  ///< "Hollow 5 saved 06:41"
  Show::Weight savedWeight = Show::Calm;
  bool canUndo = false;
  bool canPhoto = false;  ///< what was saved is a sighting of a patch
  QString draft;          ///< an outline kept as a draft; empty: none
  QString pin;            ///< a place was tapped: what that means
};

}  // namespace swardwalk::mobile
