#include "mobile/materials/material_words.h"

#include <QRegularExpression>
#include <QStringList>
#include <cmath>

#include "mobile/app/show.h"

namespace swardwalk::mobile {

namespace {

using measure::Quantity;

QString figure(double value) { return QString::number(value, 'g', 6); }

QString percent(double share) { return figure(100.0 * share) + QStringLiteral(" %"); }

QString packWords(const turf::Packs& packs, measure::UnitSystem units) {
  if (packs.bulk) return QObject::tr("delivered loose");
  QStringList sizes;
  for (const double size_kg : packs.sizes_kg)
    sizes << text(measure::writeSet(size_kg, Quantity::fillMass, units));
  return sizes.isEmpty() ? QObject::tr("pack size not known")
                         : QObject::tr("packs of %1").arg(sizes.join(QStringLiteral(", ")));
}

}  // namespace

QString wordsOf(const turf::SeedLot& lot, measure::UnitSystem units) {
  QStringList grasses;
  for (const turf::BlendPart& part : lot.parts) {
    grasses << (lot.parts.size() == 1
                    ? text(part.species)
                    : percent(part.share) + QLatin1Char(' ') + text(part.species));
  }
  QString quality =
      QObject::tr("%1 pure, %2 germinate").arg(percent(lot.purity), percent(lot.germination));
  quality += lot.tested ? QObject::tr(", tested %1").arg(text(measure::wordsDate(*lot.tested)))
                        : QObject::tr(", day of the test not known");
  return QStringList{grasses.join(QStringLiteral(", ")), quality, packWords(lot.packs, units)}.join(
      QStringLiteral("; "));
}

QString wordsOf(const turf::Feed& feed, measure::UnitSystem units) {
  QStringList parts;
  if (feed.nitrogen_percent && feed.phosphate_percent && feed.potash_percent) {
    parts << QStringLiteral("%1-%2-%3")
                 .arg(figure(*feed.nitrogen_percent), figure(*feed.phosphate_percent),
                      figure(*feed.potash_percent));
  } else {
    parts << QObject::tr("analysis not known");
  }
  if (feed.labelRate_g_m2) {
    parts << QObject::tr("%1 by its label")
                 .arg(text(measure::writeSet(*feed.labelRate_g_m2, Quantity::areaRate, units)));
  }
  parts << packWords(feed.packs, units);
  return parts.join(QStringLiteral("; "));
}

QString wordsOf(const turf::Fill& fill, measure::UnitSystem units) {
  QString body = QObject::tr("%1 kg a litre").arg(figure(fill.bulkDensity_kg_l));
  if (fill.settlesBy) body += QObject::tr(", settles by %1").arg(percent(*fill.settlesBy));
  return body + QStringLiteral("; ") + packWords(fill.packs, units);
}

QString wordsOf(const turf::Turf& turf, measure::UnitSystem units) {
  QStringList parts{text(turf.species)};
  if (turf.thickness_mm) {
    parts << QObject::tr("%1 thick")
                 .arg(text(measure::writeSet(*turf.thickness_mm, Quantity::depth, units)));
  }
  if (turf.piece_m2) {
    parts << QObject::tr("pieces of %1")
                 .arg(text(measure::writeSet(*turf.piece_m2, Quantity::area, units)));
  }
  return parts.join(QStringLiteral(", "));
}

QString writePacks(const turf::Packs& packs) {
  QStringList sizes;
  for (const double size_kg : packs.sizes_kg) sizes << QString::number(size_kg, 'g', 12);
  return sizes.join(QLatin1Char(' '));
}

std::optional<std::vector<double>> readPacks(const QString& typed) {
  std::vector<double> sizes;
  static const QRegularExpression apart(QStringLiteral("[\\s;]+"));
  for (QString word : typed.split(apart, Qt::SkipEmptyParts)) {
    bool isNumber = false;
    const double size_kg = word.replace(QLatin1Char(','), QLatin1Char('.')).toDouble(&isNumber);
    if (!isNumber || !std::isfinite(size_kg) || size_kg <= 0.0) return std::nullopt;
    sizes.push_back(size_kg);
  }
  return sizes;
}

}  // namespace swardwalk::mobile
