#include "mobile/app/lengths.h"

#include "mobile/app/show.h"

namespace swardwalk::mobile {

QString lengthText(double length_m, int decimals, measure::UnitSystem units) {
  const auto length = measure::Quantity::length;
  return QStringLiteral("%1 %2").arg(
      QString::number(measure::inUnit(length_m, length, units), 'f', decimals),
      text(measure::unitText(length, units)));
}

QString distanceText(double distance_m, measure::UnitSystem units) {
  const double shown = measure::inUnit(distance_m, measure::Quantity::length, units);
  return lengthText(distance_m, shown < 9.95 ? 1 : 0, units);
}

QString doubtText(double u_m, measure::UnitSystem units) {
  const double shown = measure::inUnit(u_m, measure::Quantity::length, units);
  return QStringLiteral("± ") + lengthText(u_m, shown < 9.95 ? 2 : 0, units);
}

}  // namespace swardwalk::mobile
