// Outlines and tracks in NMEA log, whatever the file's first signs are.
#include "common/interchange/outline_readers.h"
#include "measured_outlines.h"

using namespace swardwalk;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string bytes = fuzz::bytesOf(data, size);
  interchange::OutlineFile file;
  interchange::readNmeaOutlines({bytes, "file", "name"}, file);
  fuzz::measureAll(file);
  return 0;
}
