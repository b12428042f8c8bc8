#include "mobile/patches/same_model.h"

#include <algorithm>

namespace swardwalk::mobile {

SameModel::SameModel(Store& store, QObject* parent) : QObject(parent), store_(&store) {}

void SameModel::ask(const QString& patch, const QString& other) {
  const auto& pairs = store_->progress().samePatches;
  const auto pair = std::find_if(pairs.begin(), pairs.end(), [&](const answers::SamePair& one) {
    return text(one.patch) == patch && text(one.other) == other;
  });
  show_ = {};
  joined_.reset();
  if (pair != pairs.end()) {
    patch_ = pair->patch;
    other_ = pair->other;
    show_.asked = true;
    show_.title = tr("%1 and %2").arg(text(pair->heading), text(pair->otherHeading));
    show_.reason = text(pair->reason);
    show_.limits = text(pair->limits);
    show_.change = text(pair->change);
  }
  Q_EMIT changed();
}

void SameModel::leave() {
  show_ = {};
  joined_.reset();
  Q_EMIT changed();
}

bool SameModel::join() {
  if (!show_.asked) return false;
  course::Join join;
  join.patch = patch_;
  join.sameAs = other_;
  const QString title = show_.title;
  const auto record =
      store_->write([&](course::Recorder& recorder) { return recorder.join(join); });
  show_ = {};
  joined_.reset();
  if (record) {
    joined_ = record->digest;
    show_.undoable = true;
    show_.saved = {Show::Good,
                   tr("Joined, saved %1").arg(text(store_->zone().clockTime(store_->now()))),
                   tr("%1 are one patch now.").arg(title)};
  } else {
    show_.saved = adviceFrom(record.error());
  }
  Q_EMIT changed();
  return record.has_value();
}

bool SameModel::takeBack() {
  if (!joined_) return false;
  const journal::Digest digest = *joined_;
  const auto record = store_->write(
      [&](course::Recorder& recorder) { return recorder.withdraw(digest, "taken apart again"); });
  show_ = {};
  joined_.reset();
  if (record) {
    show_.saved = {Show::Calm, tr("Taken apart again"), tr("They are two patches, as before.")};
  } else {
    show_.saved = adviceFrom(record.error());
  }
  Q_EMIT changed();
  return record.has_value();
}

}  // namespace swardwalk::mobile
