#include "server/shed/shed.h"

#include <fmt/format.h>

#include <algorithm>

#include "common/journal/folder.h"

namespace swardwalk::server {
namespace {

/// One page for each green and patch that somebody looks at; more than this and the
/// oldest are made again.
constexpr std::size_t keptPages = 512;

measure::Instant instantOf(std::int64_t ms) {
  return measure::Instant(std::chrono::milliseconds(ms));
}

}  // namespace

Shed::Shed(std::string directory, Clock clock, std::optional<measure::Date> fixedDay)
    : directory_(std::move(directory)),
      clock_(std::move(clock)),
      fixedDay_(fixedDay),
      photos_(directory_) {}

Result<std::unique_ptr<Shed>> Shed::open(const std::string& directory, Clock clock,
                                         std::optional<measure::Date> fixedDay) {
  std::unique_ptr<Shed> shed(new Shed(directory, std::move(clock), fixedDay));
  auto journal = journal::openFolder(directory, journal::Missing::make, shed->fold_);
  if (!journal) return tl::unexpected(journal.error());
  shed->journal_.emplace(std::move(*journal));
  auto door = DoorFile::open(directory);
  if (!door) return tl::unexpected(door.error());
  shed->door_ = std::move(*door);
  shed->devices_.emplace(*shed->door_);
  shed->sessions_.emplace(*shed->door_);
  return shed;
}

Result<const CourseAnswers*> Shed::answers() {
  const std::uint64_t changes = journal_->changeCount();
  if (answers_ && answers_->changeCount == changes) {
    const measure::Date today = fixedDay_ ? *fixedDay_ : answers_->zone.dateOf(instantOf(clock_()));
    if (answers_->progress.on == today) return answers_.get();
  }
  auto fresh = std::make_unique<CourseAnswers>();
  fresh->changeCount = changes;
  auto zone = course::courseZone(*journal_);
  if (!zone) return tl::unexpected(zone.error());
  fresh->zone = *zone;
  const measure::Date today = fixedDay_ ? *fixedDay_ : zone->dateOf(instantOf(clock_()));
  auto state = course::readState(*journal_, zone->endOf(today));
  if (!state) return tl::unexpected(state.error());
  fresh->state = std::move(*state);
  fresh->progress = answers::progress(fresh->state, today, measure::UnitSystem::metric, kept_);
  fresh->plan = answers::plan(fresh->state, fresh->progress, measure::UnitSystem::metric);
  fresh->round = answers::round(fresh->state, fresh->progress, std::nullopt);
  answers_ = std::move(fresh);
  pages_.clear();
  return answers_.get();
}

Result<std::string> Shed::cached(const std::string& name,
                                 const std::function<std::string(const CourseAnswers&)>& make) {
  const auto present = answers();
  if (!present) return tl::unexpected(present.error());
  if (const auto found = pages_.find(name); found != pages_.end()) return found->second;
  if (pages_.size() >= keptPages) pages_.clear();
  return pages_[name] = make(**present);
}

Result<std::string> Shed::version() {
  const auto present = answers();
  if (!present) return tl::unexpected(present.error());
  return fmt::format("{}-{}", (*present)->changeCount, measure::isoDate((*present)->progress.on));
}

Result<void> Shed::lookForPhotos() {
  const std::uint64_t changes = journal_->changeCount();
  if (namedAt_ == changes) return {};
  auto named = course::namedPhotos(*journal_);
  if (!named) return tl::unexpected(named.error());
  course::dropErased(photos_, named_, *named);
  named_ = std::move(*named);
  namedAt_ = changes;
  return {};
}

Result<bool> Shed::namesPhoto(const journal::Digest& photo) {
  if (auto looked = lookForPhotos(); !looked) return tl::unexpected(looked.error());
  return std::any_of(named_.begin(), named_.end(),
                     [&](const course::NamedPhoto& named) { return named.photo == photo; });
}

Result<std::vector<exchange::MissingPhoto>> Shed::missingPhotos(const journal::OriginKey& first) {
  if (auto looked = lookForPhotos(); !looked) return tl::unexpected(looked.error());
  std::vector<exchange::MissingPhoto> missing;
  const auto addMissing = [&](bool ofFirst) {
    for (const course::NamedPhoto& named : named_) {
      if (missing.size() == exchange::limits::missingPhotos) return;
      if ((named.origin == first) != ofFirst || photos_.holds(named.photo)) continue;
      missing.push_back({named.photo, photos_.have(named.photo)});
    }
  };
  addMissing(true);
  addMissing(false);
  return missing;
}

Result<void> Shed::renewOrigin() {
  return journal::renewOrigin(*journal_, directory_, "somebody else writes under this server's key",
                              clock_());
}

}  // namespace swardwalk::server
