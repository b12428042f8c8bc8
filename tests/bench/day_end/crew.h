#pragma once

#include <cstdint>
#include <memory>
#include <random>
#include <string>
#include <vector>

#include "common/journal/record.h"
#include "common/journal/signer.h"

namespace swardwalk::bench {

/// Tablets of one course that write sightings whose lines are some 400 bytes long, in runs
/// as an exchange brings them. The same records every time.
class Crew {
 public:
  explicit Crew(std::size_t tablets);
  ~Crew();

  /// The tablets' next records, the same number from each.
  std::vector<journal::Run> next(std::size_t recordsOfEach);
  /// The next records of one tablet.
  std::vector<journal::Run> nextOf(std::size_t tablet, std::size_t records);

  /// A sighting as this tablet writes it, and the patch that it is about.
  journal::Draft sighting(std::size_t tablet);

  std::size_t size() const { return tablets_.size(); }
  const journal::CourseId& course() const { return course_; }
  /// The founder's key and nonce, for the shed.
  static journal::Signer founder();
  static constexpr std::array<std::uint8_t, 16> nonce{1, 2, 3};

 private:
  struct Tablet;

  journal::CourseId course_;
  std::vector<std::unique_ptr<Tablet>> tablets_;
  std::mt19937_64 random_{7};
  std::uint64_t counter_ = 1;
};

}  // namespace swardwalk::bench
