#pragma once

#include <cstdint>
#include <cstring>
#include <memory>
#include <optional>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

#include "common/course/state.h"
#include "common/geo/inset_curve.h"
#include "common/infill/green_forecast.h"
#include "common/infill/patch_forecast.h"
#include "common/journal/record.h"
#include "common/measure/measured.h"

namespace swardwalk::answers {

/// What was worked out before, by the digest of all that it was worked out from: so what is
/// found here is, bit for bit, what would be made anew. Holds what the last round asked for
/// and nothing else.
template <class Value>
class Kept {
 public:
  /// Makes the value where there is none of these inputs. Valid until `endRound`.
  template <class Make>
  const Value& get(const journal::Digest& inputs, Make make) {
    auto found = entries_.find(inputs);
    if (found == entries_.end()) found = entries_.emplace(inputs, Entry{make(), round_}).first;
    found->second.round = round_;
    return found->second.value;
  }

  /// Drops what nobody asked for since the last end of a round.
  void endRound() {
    std::erase_if(entries_, [this](const auto& entry) { return entry.second.round != round_; });
    ++round_;
  }

  std::size_t size() const { return entries_.size(); }

 private:
  struct Entry {
    Value value;
    std::uint64_t round = 0;
  };
  struct Hash {
    // A digest is as good a hash as there is; any part of it will do.
    std::size_t operator()(const journal::Digest& digest) const {
      std::size_t part = 0;
      std::memcpy(&part, digest.data(), sizeof part);
      return part;
    }
  };
  std::unordered_map<journal::Digest, Entry, Hash> entries_;
  std::uint64_t round_ = 0;
};

/// The inset curve of a form, null for one that has none, and the digest of the form.
struct KeptCurve {
  journal::Digest form{};
  std::shared_ptr<const geo::InsetCurve> curve;
};

/// The chance of a green and where to look next.
struct GreenChances {
  std::optional<double> ready;
  std::vector<infill::NextLook> looks;
};

/// The costly parts of `progress`, kept from one call to the next by whoever asks again and
/// again: when one sighting comes, only its patch and its green are worked out anew. As
/// large as one answer: some 25 KB a patch. Not locked: one call at a time.
class KeptWork {
 public:
  Kept<std::optional<measure::Measured>> areas;  ///< of sightings
  Kept<KeptCurve> curves;                        ///< of sightings' forms
  Kept<infill::PatchForecast> forecasts;         ///< alone, and with what the others tell
  Kept<measure::Measured> bare_m2;               ///< of greens
  Kept<GreenChances> chances;                    ///< likewise

  void endRound();
};

/// Digests of inputs, over every value that the thing in question depends on.
journal::Digest measuredDigest(const course::Sighting& sighting);
journal::Digest formDigest(const course::Sighting& sighting);
/// `curve` stands for the form behind `history.curve`.
journal::Digest historyDigest(const infill::PatchHistory& history, const journal::Digest& curve);

/// Everything that goes into a digest, one after the other, as bytes that no other inputs
/// give.
class Inputs {
 public:
  Inputs& add(double value);
  Inputs& add(const journal::Digest& digest);
  Inputs& add(const std::optional<double>& value);
  Inputs& add(const measure::Measured& value);
  Inputs& add(const turf::Range& range);
  Inputs& add(const std::optional<turf::Range>& range);
  Inputs& add(const geo::GlobeShape& shape);
  /// A whole number, by its eight bytes.
  Inputs& addNumber(std::uint64_t number);

  journal::Digest digest() const;

 private:
  std::string bytes_;
};

}  // namespace swardwalk::answers
