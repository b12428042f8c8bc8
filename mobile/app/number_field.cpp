#include "mobile/app/number_field.h"

#include <algorithm>
#include <cmath>

namespace swardwalk::mobile {

NumberField::NumberField(Manner manner, QObject* parent)
    : QObject(parent), manner_(std::move(manner)) {}

QString NumberField::figure() const {
  if (!value_) return tr("not yet");
  return QString::number(*value_, 'f', manner_.decimals);
}

QString NumberField::stepText() const {
  const QString step = QString::number(manner_.step, 'f', manner_.decimals);
  return manner_.unit.isEmpty() ? step : step + QLatin1Char(' ') + manner_.unit;
}

void NumberField::set(std::optional<double> value) {
  if (value) value = std::clamp(*value, 0.0, manner_.most);
  if (value == value_) return;
  value_ = value;
  Q_EMIT changed();
}

void NumberField::stepBy(double step) {
  // On the grid of steps, so that 0.51 does not stay odd for ever.
  const double from = value_.value_or(manner_.start);
  set(std::round((from + step) / manner_.step) * manner_.step);
}

void NumberField::more() { stepBy(manner_.step); }

void NumberField::less() { stepBy(-manner_.step); }

void NumberField::beginKeys() {
  typed_.clear();
  Q_EMIT typedChanged();
}

void NumberField::press(const QString& key) {
  constexpr int longest = 7;
  if (typed_.size() >= longest) return;
  if (key == QLatin1String(".")) {
    if (!decimal() || typed_.contains(QLatin1Char('.'))) return;
    typed_ += typed_.isEmpty() ? QStringLiteral("0.") : QStringLiteral(".");
  } else {
    typed_ += key;
  }
  Q_EMIT typedChanged();
}

void NumberField::rubOut() {
  typed_.chop(1);
  Q_EMIT typedChanged();
}

void NumberField::acceptKeys() {
  bool good = false;
  const double value = typed_.toDouble(&good);
  if (good) set(value);
}

}  // namespace swardwalk::mobile
