#include "mobile/position/whereabouts.h"

#include "common/geo/standing.h"
#include "mobile/app/lengths.h"

namespace swardwalk::mobile {

namespace {

QString accuracyWords(const geo::Fix& fix, measure::UnitSystem units) {
  return fix.accuracy_m ? doubtText(*fix.accuracy_m, units) : Whereabouts::tr("± unknown");
}

/// What a receiver says of its own solution; nothing where it says nothing.
QString qualityWords(geo::FixQuality quality) {
  switch (quality) {
    case geo::FixQuality::fixed:
      return Whereabouts::tr("RTK fixed, good to centimetres");
    case geo::FixQuality::floating:
      return Whereabouts::tr("RTK float, good to decimetres until it is fixed");
    case geo::FixQuality::differential:
      return Whereabouts::tr("no RTK, but corrected");
    case geo::FixQuality::autonomous:
      return Whereabouts::tr("no RTK");
    case geo::FixQuality::unknown:
      break;
  }
  return {};
}

QString sentence(QString words) {
  if (!words.isEmpty()) words[0] = words[0].toUpper();
  return words + QLatin1Char('.');
}

}  // namespace

QString spanWords(std::chrono::milliseconds span) {
  const auto seconds = std::chrono::duration_cast<std::chrono::seconds>(span).count();
  if (seconds < 60) return QStringLiteral("%1 s").arg(seconds);
  if (seconds < 3600) return QStringLiteral("%1 min %2 s").arg(seconds / 60).arg(seconds % 60);
  return QStringLiteral("%1 h %2 min").arg(seconds / 3600).arg(seconds / 60 % 60);
}

Whereabouts::Whereabouts(PositionSource& source, Clock& clock, QObject* parent)
    : QObject(parent), source_(&source), clock_(&clock), begun_(clock.now()) {
  connect(&source, &PositionSource::fix, this, &Whereabouts::take);
  connect(&source, &PositionSource::trouble, this, [this](const QString& words) {
    trouble_ = words;
    Q_EMIT changed();
  });
  tick_.setInterval(1000);
  connect(&tick_, &QTimer::timeout, this, &Whereabouts::changed);
  tick_.start();
}

void Whereabouts::take(const geo::Fix& fix) {
  clock_->moveTo(fix.time);
  last_ = fix;
  arrived_ = clock_->now();
  trouble_.clear();
  Q_EMIT moved(fix);
  Q_EMIT changed();
}

std::chrono::milliseconds Whereabouts::age() const {
  // By arrival: the receiver's clock and the tablet's need not agree.
  return std::max(clock_->now() - arrived_, std::chrono::milliseconds{0});
}

Whereabouts::State Whereabouts::state() const {
  if (!last_) return None;
  if (age() > oldest) return Lost;
  if (!last_->accuracy_m || *last_->accuracy_m > poor_m) return Poor;
  return Good;
}

std::optional<geo::Fix> Whereabouts::current() const {
  if (!last_ || age() > oldest) return std::nullopt;
  return last_;
}

std::optional<Whereabouts::Corrected> Whereabouts::corrected() const {
  const auto here = current();
  if (!here || !correction_) return std::nullopt;
  const auto fix = correction_->apply(*here);
  // Less than a twentieth taken off is not worth a word.
  if (!fix || fix->share < 0.05) return std::nullopt;
  return Corrected{fix->position,
                   fix->u_m,
                   {correctedOn_, correction_->until(), correction_->found().east_m,
                    correction_->found().north_m, fix->share, here->position,
                    here->accuracy_m.value_or(geo::assumedAccuracy_m)}};
}

void Whereabouts::correctBy(const geo::ReceiverCorrection& correction, const std::string& mark) {
  correction_ = correction;
  correctedOn_ = mark;
  Q_EMIT changed();
}

QString Whereabouts::line() const {
  if (!last_) return tr("no position");
  if (last_->quality == geo::FixQuality::fixed)
    return tr("%1 (RTK fixed), %2 old").arg(accuracyWords(*last_, units_), spanWords(age()));
  if (last_->quality == geo::FixQuality::floating)
    return tr("%1 (RTK float), %2 old").arg(accuracyWords(*last_, units_), spanWords(age()));
  if (const auto better = corrected()) {
    return tr("%1 corrected, %2 old").arg(doubtText(better->u_m, units_), spanWords(age()));
  }
  return tr("%1, %2 old").arg(accuracyWords(*last_, units_), spanWords(age()));
}

QString Whereabouts::title() const {
  switch (state()) {
    case None:
      return trouble_.isEmpty() ? tr("No position yet, %1").arg(spanWords(clock_->now() - begun_))
                                : tr("No position");
    case Lost:
      return tr("No position for %1").arg(spanWords(age()));
    case Poor:
      return last_->accuracy_m ? tr("Position only %1").arg(accuracyWords(*last_, units_))
                               : tr("Position of unknown accuracy");
    case Good:
      break;
  }
  return {};
}

QString Whereabouts::reason() const {
  switch (state()) {
    case None:
    case Lost:
      if (!trouble_.isEmpty()) {
        return tr("%1 Marking works: tap the place on the plan.").arg(sentence(trouble_));
      }
      return tr(
          "Roof or trees hide the sky, or the receiver is still waking. "
          "Marking works: tap the place on the plan.");
    case Poor:
      return tr(
          "Too wide to tell one patch from the next. What you save keeps its ±; "
          "a tap on the plan places it better.");
    case Good:
      break;
  }
  return {};
}

QString Whereabouts::receiver() const {
  QStringList parts{tr("Positions come from %1.").arg(source_->name())};
  if (!trouble_.isEmpty()) {
    parts = QStringList{sentence(trouble_)};
  } else if (last_) {
    const QString quality = qualityWords(last_->quality);
    if (!quality.isEmpty()) parts << sentence(quality);
  }
  const int damaged = source_->damaged();
  if (damaged > 0) {
    parts << tr("%1 of %2 sentences came damaged and were left out.")
                 .arg(damaged)
                 .arg(damaged + source_->sentences());
  }
  return parts.join(QLatin1Char(' '));
}

}  // namespace swardwalk::mobile
