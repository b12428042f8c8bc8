#include "tests/simulation/machine.h"

#include <fmt/format.h>

#include "tests/simulation/rule_broken.h"

namespace swardwalk::simulation {

Machine::Machine(journal::VirtualVfs& vfs, std::string name, Random& random)
    : name_(std::move(name)), random_(&random), vfs_(vfs.name()), key_(random.bytes<32>()) {
  vfs.add(name_, disk_);
}

Result<void> Machine::open() {
  fold_ = std::make_unique<course::CourseFold>(typesOf(build_), foldVersionOf(build_));
  journal::JournalOptions options;
  options.file = "/" + name_ + "/journal.sqlite";
  options.vfs = vfs_;
  options.deviceName = name_;
  auto opened = journal::Journal::open(options, journal::Signer(key_), *fold_);
  if (!opened) return tl::unexpected(opened.error());
  journal_.emplace(std::move(*opened));
  return {};
}

void Machine::start() {
  auto opened = open();
  if (!opened && (disk_.died() || disk_.failed())) {
    if (disk_.died())
      disk_.losePower([this](std::uint64_t count) { return random_->below(count); });
    else
      disk_.killProgram();
    disk_.mend();
    opened = open();
  }
  if (!opened) throw RuleBroken("X1: " + name_ + " cannot start: " + opened.error().text());
  if (!settle()) checkClaims();
}

void Machine::stop() { journal_.reset(); }

void Machine::crash(bool powerLoss) {
  // The program is gone before its journal object is: nothing of it reaches the disk.
  if (powerLoss)
    disk_.losePower([this](std::uint64_t count) { return random_->below(count); });
  else
    disk_.killProgram();
  journal_.reset();
  start();
}

bool Machine::settle() {
  if (!disk_.died()) return false;
  crash(random_->chance(50));
  return true;
}

Machine::Image Machine::image() { return {disk_.content(), key_, claims_}; }

void Machine::restore(const Image& image) {
  disk_.killProgram();
  journal_.reset();
  disk_.replace(image.files);
  disk_.mend();
  key_ = image.key;
  claims_ = image.claims;
  start();
}

void Machine::loseKey() {
  stop();
  key_ = random_->bytes<32>();
  start();
}

bool Machine::renewOrigin() {
  key_ = random_->bytes<32>();
  auto renewed = journal_->changeOrigin(journal::Signer(key_), "restored", now_ms);
  if (settle()) return false;
  if (!renewed) {
    // The key lies on the disk already; the program ends here and starts with it.
    stop();
    start();
    return false;
  }
  return true;
}

Result<void> Machine::write(const std::vector<journal::Draft>& drafts) {
  auto records = journal_->append(drafts);
  if (settle()) return fail(FailureKind::refused, name_, "it died over it", "");
  if (!records) return tl::unexpected(records.error());
  const journal::Record& last = records->back();
  claim({{last.origin, last.number, last.digest}});
  return {};
}

void Machine::claim(const std::vector<journal::Head>& heads) {
  for (const journal::Head& head : heads) {
    if (claims_.contains(head)) continue;
    // Who holds a record holds those before it on its branch.
    const auto first = claims_.lower_bound({head.origin, 0, {}});
    for (auto at = first; at != claims_.end() && at->origin == head.origin;) {
      const bool below =
          at->number < head.number && journal_->digestAt(head, at->number) == at->digest;
      at = below ? claims_.erase(at) : std::next(at);
    }
    claims_.insert(head);
  }
}

void Machine::checkClaims() {
  for (const journal::Head& head : claims_)
    if (!journal_->holds(head))
      throw RuleBroken(fmt::format("J2: {} said that it holds record {} of origin {}, and lost it",
                                   name_, head.number, journal::hex(head.origin.data(), 4)));
}

std::set<journal::Digest> Machine::erasures() {
  const auto wanted = fold_->erasures(journal_->database());
  return {wanted.begin(), wanted.end()};
}

std::string Machine::state() { return fold_->stateText(journal_->database()); }

}  // namespace swardwalk::simulation
