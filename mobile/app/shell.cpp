#include "mobile/app/shell.h"

namespace swardwalk::mobile {

namespace {

/// "Thu 29 Apr".
QString shortDay(measure::Date date) {
  static constexpr const char* days[] = {"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};
  static constexpr const char* months[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                           "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
  const std::chrono::year_month_day day(date);
  return QStringLiteral("%1 %2 %3")
      .arg(QString::fromUtf8(days[std::chrono::weekday(date).c_encoding()]))
      .arg(static_cast<unsigned>(day.day()))
      .arg(QString::fromUtf8(months[static_cast<unsigned>(day.month()) - 1]));
}

}  // namespace

Shell::Shell(Store& store, ShedLog& log, QObject* parent)
    : QObject(parent), store_(&store), log_(&log) {
  connect(log_, &ShedLog::changed, this, &Shell::statusChanged);
  tick_.setInterval(5000);
  connect(&tick_, &QTimer::timeout, this, [this] { Q_EMIT statusChanged(); });
  tick_.start();
}

QString Shell::now() const {
  return QStringLiteral("%1, %2").arg(shortDay(store_->today()),
                                      text(store_->zone().clockTime(store_->now())));
}

QString Shell::incomplete() const {
  std::uint64_t records = 0;
  for (const course::MadeByNewer& newer : store_->state().madeByNewer) records += newer.records;
  if (records == 0) return {};
  return tr("%1 made by a newer version: answers may lack something")
      .arg(counted(records, "record", "records"));
}

void Shell::setDark(bool dark) {
  store_->settings().dark = dark;
  store_->settings().save();
  Q_EMIT lookChanged();
}

void Shell::setLeftHanded(bool leftHanded) {
  store_->settings().leftHanded = leftHanded;
  store_->settings().save();
  Q_EMIT lookChanged();
}

void Shell::setImperial(bool imperial) {
  if (imperial == store_->settings().imperial) return;
  store_->settings().imperial = imperial;
  store_->settings().save();
  store_->unitsChanged();
  Q_EMIT lookChanged();
}

void Shell::openPage(Page page) {
  page_ = page;
  task_ = NoTask;
  Q_EMIT pageChanged();
}

void Shell::openTask(Task task) {
  task_ = task;
  Q_EMIT pageChanged();
}

}  // namespace swardwalk::mobile
