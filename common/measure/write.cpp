#include "common/measure/write.h"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>

#include "common/measure/units.h"

namespace swardwalk::measure {
namespace {

constexpr double tooLarge = 1e12;
constexpr int digitsWithoutDoubt = 3;
constexpr int digitsOfExact = 6;

/// How one quantity is shown in one system: shown = value * factor + offset, and
/// nothing finer than 10^finestPlace.
struct Unit {
  const char* text;
  double factor;
  double offset;
  int finestPlace;
};

constexpr double inchesPerMillimetre = 0.001 / metresPerInch;

Unit unitOf(Quantity quantity, UnitSystem system) {
  const bool metric = system == UnitSystem::metric;
  constexpr double poundRate = 1.0 / gramsPerSquareMetrePerPoundPer1000SquareFeet;
  switch (quantity) {
    case Quantity::area:
      return metric ? Unit{"m²", 1.0, 0.0, -4}
                    : Unit{"ft²", 1.0 / squareMetresPerSquareFoot, 0.0, -3};
    case Quantity::length:
      return metric ? Unit{"m", 1.0, 0.0, -3} : Unit{"ft", 1.0 / metresPerFoot, 0.0, -2};
    case Quantity::depth:
      return metric ? Unit{"mm", 1.0, 0.0, -1} : Unit{"in", inchesPerMillimetre, 0.0, -2};
    case Quantity::creep:
      return metric ? Unit{"mm a day", 1.0, 0.0, -2}
                    : Unit{"in a day", inchesPerMillimetre, 0.0, -4};
    case Quantity::seedMass:
      return metric ? Unit{"g", 1.0, 0.0, -2} : Unit{"oz", 1.0 / gramsPerOunce, 0.0, -3};
    case Quantity::fillMass:
      return metric ? Unit{"kg", 1.0, 0.0, -3} : Unit{"lb", 1.0 / kilogramsPerPound, 0.0, -3};
    case Quantity::volume:
      return metric ? Unit{"l", 1.0, 0.0, -2} : Unit{"US gal", 1.0 / litresPerUsGallon, 0.0, -2};
    case Quantity::areaRate:
      return metric ? Unit{"g/m²", 1.0, 0.0, -3} : Unit{"lb/1000 ft²", poundRate, 0.0, -4};
    case Quantity::smallRate:
      return metric ? Unit{"g/m²", 1.0, 0.0, -3} : Unit{"oz/1000 ft²", 16.0 * poundRate, 0.0, -3};
    case Quantity::rain:
      return metric ? Unit{"mm", 1.0, 0.0, -1} : Unit{"in", inchesPerMillimetre, 0.0, -2};
    case Quantity::temperature:
      return metric ? Unit{"°C", 1.0, 0.0, -1} : Unit{"°F", 1.8, 32.0, -1};
    case Quantity::share:
      return {"%", 100.0, 0.0, -2};
  }
  assert(false);
  return {"", 1.0, 0.0, 0};
}

/// The power of ten of the first significant digit; `size` above 0.
int firstPlace(double size) { return static_cast<int>(std::floor(std::log10(size) + 1e-12)); }

/// The number to the place 10^place, written without an exponent.
std::string toPlace(double value, int place) {
  if (place > 0) {
    const double step = std::pow(10.0, place);
    value = std::round(value / step) * step;
  }
  std::string digits = fmt::format("{:.{}f}", std::abs(value), std::max(-place, 0));
  const bool isZero = digits.find_first_not_of("0.") == std::string::npos;
  return value < 0.0 && !isZero ? "−" + digits : digits;
}

std::string withoutClosingZeros(std::string digits) {
  if (digits.find('.') == std::string::npos) return digits;
  digits.erase(digits.find_last_not_of('0') + 1);
  if (digits.back() == '.') digits.pop_back();
  return digits;
}

/// The place of the last of `count` significant digits, within the unit's finest.
int placeOf(double value, int count, int finestPlace) {
  if (value == 0.0) return 0;
  return std::max(firstPlace(std::abs(value)) - count + 1, finestPlace);
}

/// The place to which an uncertainty above 0 is written.
int placeOfDoubt(double u) {
  const int first = firstPlace(u);
  // 0.3 is a hair below three tenths as a double.
  return u / std::pow(10.0, first) < 3.0 - 1e-9 ? first - 1 : first;
}

}  // namespace

std::string Written::text() const {
  std::string line = figure;
  if (!doubt.empty()) line += " " + doubt;
  if (!unit.empty()) line += " " + unit;
  return line;
}

Written write(const Measured& measured, Quantity quantity, UnitSystem system) {
  const Unit unit = unitOf(quantity, system);
  const double value = measured.value * unit.factor + unit.offset;
  // Also catches what is not a number.
  if (!(std::abs(value) < tooLarge)) return {"not known", "", ""};
  const double u = measured.u.value_or(std::nan("")) * unit.factor;
  if (!(u < tooLarge)) {
    return {toPlace(value, placeOf(value, digitsWithoutDoubt, unit.finestPlace)), "", unit.text};
  }
  if (u == 0.0) {
    const int place = placeOf(value, digitsOfExact, unit.finestPlace);
    return {withoutClosingZeros(toPlace(value, std::min(place, 0))), "± 0", unit.text};
  }
  const double shown_u = std::max(u, std::pow(10.0, unit.finestPlace));
  const int place = std::max(placeOfDoubt(shown_u), unit.finestPlace);
  return {toPlace(value, place), "± " + toPlace(shown_u, place), unit.text};
}

std::string writeSet(double value, Quantity quantity, UnitSystem system) {
  Written written = write(exact(value), quantity, system);
  written.doubt.clear();
  return written.text();
}

std::string writeChance(double probability) {
  if (!(probability >= 0.0 && probability <= 1.0)) return "not known";
  const double percent = 100.0 * probability;
  if (percent < 1.0) return "under 1 %";
  if (percent > 99.0) return "over 99 %";
  return writeShare(probability);
}

std::string writeShare(double share) {
  if (!(share >= 0.0 && share <= 1.0)) return "not known";
  return fmt::format("{:.0f} %", 100.0 * share);
}

std::string unitText(Quantity quantity, UnitSystem system) { return unitOf(quantity, system).text; }

double inUnit(double value, Quantity quantity, UnitSystem system) {
  const Unit unit = unitOf(quantity, system);
  return value * unit.factor + unit.offset;
}

double fromUnit(double shown, Quantity quantity, UnitSystem system) {
  const Unit unit = unitOf(quantity, system);
  return (shown - unit.offset) / unit.factor;
}

}  // namespace swardwalk::measure
