#include "mobile/app/number_field.h"

#include <algorithm>
#include <cmath>

#include "mobile/app/show.h"

namespace swardwalk::mobile {

NumberField::NumberField(Counted counted, QObject* parent)
    : QObject(parent),
      label_(std::move(counted.label)),
      countedIn_(std::move(counted.unit)),
      metric_(counted.grain),
      imperial_(counted.grain),
      most_(counted.most) {}

NumberField::NumberField(Measured measured, QObject* parent)
    : QObject(parent),
      label_(std::move(measured.label)),
      quantity_(measured.quantity),
      metric_(measured.metric),
      imperial_(measured.imperial),
      most_(measured.most) {}

const NumberField::Grain& NumberField::grain() const {
  return units_ == measure::UnitSystem::metric ? metric_ : imperial_;
}

double NumberField::shown(double value) const {
  return quantity_ ? measure::inUnit(value, *quantity_, units_) : value;
}

double NumberField::fromShown(double shown) const {
  return quantity_ ? measure::fromUnit(shown, *quantity_, units_) : shown;
}

QString NumberField::unit() const {
  return quantity_ ? text(measure::unitText(*quantity_, units_)) : countedIn_;
}

QString NumberField::figure() const {
  if (!value_) return tr("not yet");
  return QString::number(shown(*value_), 'f', grain().decimals);
}

QString NumberField::stepText() const {
  const QString step = QString::number(grain().step, 'f', grain().decimals);
  return unit().isEmpty() ? step : step + QLatin1Char(' ') + unit();
}

void NumberField::setUnits(measure::UnitSystem units) {
  if (units == units_) return;
  units_ = units;
  Q_EMIT changed();
}

void NumberField::set(std::optional<double> value) {
  if (value) value = std::clamp(*value, 0.0, most_);
  if (value == value_) return;
  value_ = value;
  Q_EMIT changed();
}

void NumberField::stepBy(double step) {
  // On the grid of steps, so that 0.51 does not stay odd for ever.
  const double from = value_ ? shown(*value_) : grain().start;
  set(fromShown(std::round((from + step) / grain().step) * grain().step));
}

void NumberField::more() { stepBy(grain().step); }

void NumberField::less() { stepBy(-grain().step); }

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
  if (good) set(fromShown(value));
}

}  // namespace swardwalk::mobile
