#include "mobile/app/store.h"

#include <QDir>
#include <boost/json.hpp>

#include "common/journal/folder.h"
#include "mobile/app/show.h"

namespace swardwalk::mobile {

Store::Store(QString directory, TabletSettings& settings, Clock& clock, QObject* parent)
    : QObject(parent), directory_(std::move(directory)), settings_(&settings), clock_(&clock) {
  auto opened = journal::openFolder(directory_.toStdString(), journal::Missing::make, fold_);
  if (!opened) {
    failure_ = opened.error();
    return;
  }
  journal_.emplace(std::move(*opened));
  recorder_.emplace(*journal_, pen(), [this] { return clock_->now_ms(); });
  refresh();
}

course::Pen Store::pen() const {
  return {settings_->personId, settings_->person.toStdString(), settings_->device.toStdString()};
}

void Store::refresh() {
  progress_.reset();
  plan_.reset();
  openPatches_.reset();
  const auto zone = course::courseZone(*journal_);
  if (zone) zone_ = *zone;
  auto state = course::readState(*journal_, zone_.endOf(today()));
  if (state) {
    state_ = std::move(*state);
  } else {
    failure_ = state.error();
  }
  Q_EMIT changed();
}

const answers::Progress& Store::progress() {
  if (!progress_) {
    progress_ = answers::progress(state_, today(), units(), kept_);
  }
  return *progress_;
}

const answers::Plan& Store::plan() {
  if (!plan_) plan_ = answers::plan(state_, progress(), units());
  return *plan_;
}

const answers::PatchFinder& Store::openPatches() {
  if (!openPatches_) openPatches_.emplace(answers::openPatches(state_, progress(), units()));
  return *openPatches_;
}

measure::UnitSystem Store::units() const {
  return settings_->imperial ? measure::UnitSystem::imperial : measure::UnitSystem::metric;
}

void Store::unitsChanged() {
  progress_.reset();
  plan_.reset();
  openPatches_.reset();
  Q_EMIT changed();
}

const answers::PatchProgress* Store::patchProgress(std::string_view patch) {
  for (const auto& one : progress().patches) {
    if (one.patch == patch) return &one;
  }
  return nullptr;
}

const answers::GreenProgress* Store::greenProgress(std::string_view green) {
  for (const auto& one : progress().greens) {
    if (one.green == green) return &one;
  }
  return nullptr;
}

Result<journal::Record> Store::write(const Writing& writing) {
  auto record = writing(*recorder_);
  if (record) refresh();
  return record;
}

Result<void> Store::foundCourse(const QString& courseName) {
  if (!journal_->course()) {
    std::array<std::uint8_t, 16> nonce{};
    journal::systemRandom(nonce.data(), nonce.size());
    const auto founded = journal_->found(nonce, clock_->now_ms(), settings_->device.toStdString());
    if (!founded) return founded;
  }
  if (!state_.course.name.empty()) return {};
  boost::json::object properties;
  properties["name"] = courseName.toStdString();
  boost::json::object body;
  body["geometry"] = nullptr;
  body["properties"] = std::move(properties);
  const auto named = recorder_->feature("course", body);
  if (!named) return tl::unexpected(named.error());
  refresh();
  return {};
}

void Store::clockIs(journal::ClockSource source, std::int64_t offset_ms) {
  // A clock that stands was set on purpose.
  if (source < clockSource_ || clock_->standsStill()) return;
  clockSource_ = source;
  clockOffset_ms_ = offset_ms;
  recorder_->clockIs(source, offset_ms);
}

Result<void> Store::renewOrigin(std::string_view reason) {
  return journal::renewOrigin(*journal_, directory_.toStdString(), reason, clock_->now_ms());
}

std::string Store::newPatchId() const { return course::newPatchId(journal::systemRandom); }

std::string Store::nextLabel(const std::string& green) const {
  return course::nextLabel(state_, green, settings_->letter.toStdString());
}

}  // namespace swardwalk::mobile
