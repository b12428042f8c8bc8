#include "mobile/app/show.h"

#include "common/turf/kind.h"

namespace swardwalk::mobile {

namespace Show {

Weight weightOf(answers::Weight weight) {
  switch (weight) {
    case answers::Weight::calm:
      return Calm;
    case answers::Weight::good:
      return Good;
    case answers::Weight::watch:
      return Watch;
    case answers::Weight::stop:
      return Stop;
  }
  return Calm;
}

Kind kindOf(turf::Kind kind) {
  switch (kind) {
    case turf::Kind::bare:
      return Bare;
    case turf::Kind::hungry:
      return Hungry;
    case turf::Kind::dug:
      return Dug;
    case turf::Kind::washed:
      return Washed;
  }
  return Bare;
}

Look lookOf(answers::Look look) {
  switch (look) {
    case answers::Look::open:
      return Open;
    case answers::Look::closing:
      return Closing;
    case answers::Look::sownWaiting:
      return SownWaiting;
    case answers::Look::up:
      return Up;
    case answers::Look::closed:
      return Closed;
  }
  return Open;
}

}  // namespace Show

WrittenText WrittenText::from(const measure::Written& written) {
  return {mobile::text(written.figure), mobile::text(written.doubt), mobile::text(written.unit)};
}

QString WrittenText::text() const {
  QString line = figure;
  if (!doubt.isEmpty()) line += QLatin1Char(' ') + doubt;
  if (!unit.isEmpty()) line += QLatin1Char(' ') + unit;
  return line;
}

SymbolLook SymbolLook::from(const answers::PatchProgress& patch) {
  SymbolLook symbol;
  symbol.kind = Show::kindOf(patch.kind);
  symbol.look = Show::lookOf(patch.look);
  // Hungry patches are fed, they do not close: no ring.
  if (patch.kind != turf::Kind::hungry && patch.look != answers::Look::closed) {
    symbol.share = patch.shareClosed.value_or(0.0);
  }
  symbol.late = patch.late;
  return symbol;
}

AdviceText adviceFrom(const Failure& failure) {
  AdviceText advice;
  advice.weight = Show::Stop;
  advice.title = text(failure.what);
  if (!advice.title.isEmpty()) advice.title[0] = advice.title[0].toUpper();
  advice.reason = text(failure.todo);
  if (!advice.reason.isEmpty()) {
    advice.reason[0] = advice.reason[0].toUpper();
    advice.reason += QLatin1Char('.');
  }
  return advice;
}

QString counted(std::uint64_t count, const char* one, const char* many) {
  return QString::number(count) + QLatin1Char(' ') + QString::fromUtf8(count == 1 ? one : many);
}

QString kindWord(turf::Kind kind) { return text(turf::word(kind)); }

QString kindTitle(turf::Kind kind) {
  QString title = kindWord(kind);
  if (!title.isEmpty()) title[0] = title[0].toUpper();
  return title;
}

}  // namespace swardwalk::mobile
