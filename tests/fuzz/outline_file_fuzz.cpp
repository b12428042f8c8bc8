// Files with outlines and tracks of any kind: the reader is chosen by the file's first signs.
#include "measured_outlines.h"

using namespace swardwalk;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  fuzz::measureAll(interchange::readOutlines({"file", fuzz::bytesOf(data, size)}));
  return 0;
}
