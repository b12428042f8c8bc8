#include "mobile/photos/photo_model.h"

#include <QUrl>
#include <algorithm>

#include "common/journal/photo_folder.h"
#include "mobile/photos/photo_maker.h"

namespace swardwalk::mobile {

PhotoModel::PhotoModel(Store& store, const CameraFolder& camera, QObject* parent)
    : QObject(parent),
      store_(&store),
      camera_(&camera),
      pictures_({{"address", [](const Row& row) { return row.address; }},
                 {"when", [](const Row& row) { return row.when; }},
                 {"taken", [](const Row& row) { return row.taken; }}}) {}

void PhotoModel::begin(const std::string& patch) {
  patch_ = patch;
  const auto* progress = store_->patchProgress(patch);
  title_ = tr("Photos of %1").arg(progress != nullptr ? text(progress->heading) : text(patch));
  saved_ = {};
  undoable_.reset();
  found_.clear();
  look();
}

void PhotoModel::look() {
  std::vector<Row> rows;
  const measure::Zone& zone = store_->zone();
  for (const QFileInfo& file : camera_->newest(mostPictures)) {
    Row row;
    row.file = file.filePath();
    row.address = QUrl::fromLocalFile(row.file).toString();
    row.moment =
        measure::Instant(std::chrono::milliseconds(file.lastModified().toMSecsSinceEpoch()));
    row.when = tr("%1, %2").arg(text(measure::wordsDate(zone.dateOf(row.moment))),
                                text(zone.clockTime(row.moment)));
    row.taken = std::any_of(found_.begin(), found_.end(), [&](const Row& before) {
      return before.taken && before.file == row.file;
    });
    rows.push_back(std::move(row));
  }
  found_ = rows;
  pictures_.set(std::move(rows));
  second_ = found_.empty()
                ? tr("No pictures in %1 yet. Take one with the tablet’s camera, then look again.")
                      .arg(camera_->words())
                : tr("The newest first. One touch takes one to the patch.");
  Q_EMIT changed();
}

Result<journal::Record> PhotoModel::keep(const Row& row) {
  const auto made = makePhoto(row.file);
  if (!made) return tl::unexpected(made.error());
  journal::PhotoFolder folder(store_->directory().toStdString());
  const auto whole = folder.add(made->whole);
  if (!whole) return tl::unexpected(whole.error());
  const course::Patch* patch = store_->state().patch(patch_);
  if (patch != nullptr && std::any_of(patch->photos.begin(), patch->photos.end(),
                                      [&](const auto& had) { return had.photo == *whole; })) {
    return fail(FailureKind::invalid, patch_, "the patch has this picture already",
                "choose another one");
  }
  const auto small = folder.add(made->small);
  if (!small) return tl::unexpected(small.error());
  course::Photo photo;
  photo.patch = patch_;
  photo.seen = std::min(row.moment, store_->now());
  photo.photo = *whole;
  photo.small = *small;
  return store_->write([&](course::Recorder& recorder) { return recorder.photo(photo); });
}

bool PhotoModel::take(int row) {
  if (row < 0 || row >= static_cast<int>(found_.size())) return false;
  Row& picture = found_[static_cast<std::size_t>(row)];
  if (picture.taken) return false;
  const auto record = keep(picture);
  undoable_.reset();
  if (record) {
    picture.taken = true;
    undoable_ = record->digest;
    undoableRow_ = row;
    pictures_.set(found_);
    saved_ = {
        Show::Good, tr("Photo saved %1").arg(text(store_->zone().clockTime(store_->now()))), {}};
  } else {
    saved_ = adviceFrom(record.error());
    saved_.weight = Show::Stop;
  }
  Q_EMIT changed();
  return record.has_value();
}

void PhotoModel::takeBack() {
  if (!undoable_) return;
  const journal::Digest digest = *undoable_;
  const auto record = store_->write(
      [&](course::Recorder& recorder) { return recorder.withdraw(digest, "taken back at once"); });
  if (record) {
    undoable_.reset();
    found_[static_cast<std::size_t>(undoableRow_)].taken = false;
    pictures_.set(found_);
    saved_ = {Show::Calm, tr("Photo taken back"), {}};
  } else {
    saved_ = adviceFrom(record.error());
  }
  Q_EMIT changed();
}

void PhotoModel::back() { Q_EMIT closed(); }

}  // namespace swardwalk::mobile
