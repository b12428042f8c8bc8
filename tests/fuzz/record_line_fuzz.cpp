// One record's line: what is read must be written as a line that reads the same again, and
// keep to the envelope's limits or break them in words.
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "common/exchange/message.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace swardwalk;
  const std::string_view line(reinterpret_cast<const char*>(data), size);
  const auto record = exchange::parseRecord(line);
  if (!record) {
    if (record.error().what.empty()) std::abort();
    return 0;
  }
  static_cast<void>(journal::brokenLimit(*record));
  const std::string written = exchange::writeRecord(*record);
  const auto again = exchange::parseRecord(written);
  if (!again || exchange::writeRecord(*again) != written) std::abort();
  if (again->content.body != record->content.body) std::abort();
  return 0;
}
