#include "mobile/walk/frames_model.h"

#include <algorithm>

#include "common/answers/thin_stand.h"

namespace swardwalk::mobile {

FramesModel::FramesModel(Store& store, Whereabouts& whereabouts, WalkModel& walk, QObject* parent)
    : QObject(parent),
      store_(&store),
      whereabouts_(&whereabouts),
      walk_(&walk),
      squaresBare_(NumberField::Counted{tr("Bare squares"), QString(), {1, 0, 0}, 10000}),
      squares_(NumberField::Counted{tr("All squares"), QString(), {1, 0, 100}, 10000}),
      rows_({{"title", [](const Row& row) { return QVariant(row.title); }},
             {"figure", [](const Row& row) { return QVariant(row.figure); }}}) {
  for (NumberField* field : {&squaresBare_, &squares_})
    connect(field, &NumberField::changed, this, &FramesModel::refresh);
}

void FramesModel::begin() {
  green_ = walk_->green();
  counted_.clear();
  trouble_ = {};
  squaresBare_.set({});
  if (!squares_.known()) squares_.set(100);
  refresh();
}

bool FramesModel::count() {
  if (!show_.canCount) return false;
  course::Frame frame;
  frame.green = green_;
  frame.seen = store_->now();
  frame.squaresBare = qRound(*squaresBare_.value());
  frame.squares = qRound(*squares_.value());
  if (const auto here = whereabouts_->current()) frame.point = here->position;
  const auto record =
      store_->write([&](course::Recorder& recorder) { return recorder.frame(frame); });
  trouble_ = record ? AdviceText() : adviceFrom(record.error());
  if (record) {
    counted_.push_back(record->digest);
    squaresBare_.set({});
  }
  refresh();
  return record.has_value();
}

void FramesModel::takeBack() {
  if (counted_.empty()) return;
  const journal::Digest digest = counted_.back();
  const auto record = store_->write(
      [&](course::Recorder& recorder) { return recorder.withdraw(digest, "taken back at once"); });
  trouble_ = record ? AdviceText() : adviceFrom(record.error());
  if (record) counted_.pop_back();
  refresh();
}

void FramesModel::back() { Q_EMIT closed(); }

void FramesModel::refresh() {
  show_ = {};
  show_.title = tr("Frames on %1").arg(text(green_));
  show_.subject = tr("Throw it at random, count, throw again");
  show_.canTakeBack = !counted_.empty();
  const double bare = squaresBare_.value().value_or(0.0);
  const double all = squares_.value().value_or(0.0);
  show_.canCount = squaresBare_.known() && all >= 1.0 && bare <= all && !green_.empty();

  const answers::Calendar calendar(store_->state(), store_->today());
  const auto thrown = answers::thinStandOf(store_->state(), green_, calendar);
  std::vector<Row> rows;
  if (thrown) {
    for (const course::Frame* frame : answers::framesTogether(store_->state(), green_, calendar)) {
      rows.push_back({tr("%1, %2").arg(text(measure::wordsDate(store_->zone().dateOf(frame->seen))),
                                       text(store_->zone().clockTime(frame->seen))),
                      tr("%1 of %2 bare").arg(frame->squaresBare).arg(frame->squares)});
    }
    std::reverse(rows.begin(), rows.end());
    show_.share =
        WrittenText::from(measure::write(thrown->share, measure::Quantity::share, store_->units()));
    show_.second = tr("of the green is bare, by %1")
                       .arg(counted(static_cast<std::uint64_t>(thrown->frames), "frame", "frames"));
  } else {
    show_.second = tr("No frame counted on this green yet");
  }
  rows_.set(std::move(rows));

  const int frames = thrown ? thrown->frames : 0;
  if (squaresBare_.known() && bare > all) {
    show_.advice.weight = Show::Watch;
    show_.advice.title = tr("More bare squares than squares");
    show_.advice.reason = tr("Count again, or correct the number of squares.");
  } else if (frames == 1) {
    show_.advice.weight = Show::Watch;
    show_.advice.title = tr("One frame has no ±");
    show_.advice.reason = tr("Only the scatter between frames tells how sure the share is.");
  } else if (frames > 1 && frames < wantedFrames) {
    show_.advice.title = tr("%1 more would do").arg(wantedFrames - frames);
    show_.advice.reason =
        tr("Squares of one frame are alike: more frames help, a larger one "
           "hardly.");
  }
  if (!trouble_.title.isEmpty()) show_.advice = trouble_;
  Q_EMIT changed();
}

}  // namespace swardwalk::mobile
