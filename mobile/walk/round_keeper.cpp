#include "mobile/walk/round_keeper.h"

#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>

#include "common/geo/local_plane.h"
#include "mobile/app/show.h"

namespace swardwalk::mobile {

namespace {

constexpr char noteKey[] = "round being walked";
/// Closer places say nothing new about what was seen.
constexpr double step_m = 1.0;
constexpr std::size_t placesBetweenNotes = 10;

std::string write(const course::Round& round) {
  QJsonArray track;
  for (const geo::Position& place : round.track) {
    track.append(QJsonArray{place.longitude_deg, place.latitude_deg});
  }
  const QJsonObject note{{"green", text(round.green)},
                         {"started_ms", qint64{round.started.time_since_epoch().count()}},
                         {"track", track}};
  return QJsonDocument(note).toJson(QJsonDocument::Compact).toStdString();
}

std::optional<course::Round> read(const std::string& note) {
  const QJsonObject object = QJsonDocument::fromJson(QByteArray::fromStdString(note)).object();
  if (object.isEmpty()) return std::nullopt;
  course::Round round;
  round.green = object["green"].toString().toStdString();
  round.started =
      measure::Instant(std::chrono::milliseconds(object["started_ms"].toVariant().toLongLong()));
  for (const QJsonValue& place : object["track"].toArray()) {
    round.track.push_back({place[1].toDouble(), place[0].toDouble()});
  }
  return round;
}

}  // namespace

RoundKeeper::RoundKeeper(Store& store) : store_(&store) {
  if (const auto note = store.journal().note(noteKey)) {
    round_ = read(*note);
    if (round_) kept_ = round_->track.size();
  }
}

Result<void> RoundKeeper::keep() {
  kept_ = round_ ? round_->track.size() : 0;
  return store_->journal().setNote(noteKey, round_ ? write(*round_) : "{}");
}

Result<void> RoundKeeper::start(const std::string& green) {
  round_ = course::Round{};
  round_->green = green;
  round_->started = store_->now();
  return keep();
}

void RoundKeeper::walkedTo(geo::Position position) {
  if (!round_) return;
  if (!round_->track.empty()) {
    const geo::LocalPlane plane(round_->track.back());
    const geo::LocalPoint step = plane.toLocal(position);
    if (step.east_m * step.east_m + step.north_m * step.north_m < step_m * step_m) return;
  }
  round_->track.push_back(position);
  // A note that could not be written now is written with the next places; the track in
  // memory is whole, and a full disk shows at the next record.
  if (round_->track.size() >= kept_ + placesBetweenNotes) (void)keep();
}

Result<journal::Record> RoundKeeper::finish() {
  course::Round round = *round_;
  round.ended = store_->now();
  auto record = store_->write([&](course::Recorder& recorder) { return recorder.round(round); });
  if (record) {
    round_.reset();
    if (const auto kept = keep(); !kept) return tl::unexpected(kept.error());
  }
  return record;
}

}  // namespace swardwalk::mobile
