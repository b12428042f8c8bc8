#include "server/http/gzip.h"

#include <zlib.h>

#include <stdexcept>

namespace swardwalk::server {
namespace {

constexpr std::size_t worthZipping = 1024;
constexpr int gzipWindow = 15 + 16;  ///< 32 KiB, and zlib's mark for a gzip header

}  // namespace

std::string gzip(std::string_view bytes) {
  z_stream stream{};
  if (deflateInit2(&stream, Z_DEFAULT_COMPRESSION, Z_DEFLATED, gzipWindow, 8, Z_DEFAULT_STRATEGY) !=
      Z_OK) {
    throw std::bad_alloc();
  }
  std::string zipped(deflateBound(&stream, bytes.size()), '\0');
  stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(bytes.data()));
  stream.avail_in = static_cast<uInt>(bytes.size());
  stream.next_out = reinterpret_cast<Bytef*>(zipped.data());
  stream.avail_out = static_cast<uInt>(zipped.size());
  const int ended = deflate(&stream, Z_FINISH);
  zipped.resize(stream.total_out);
  deflateEnd(&stream);
  // deflateBound's room always suffices for one call.
  if (ended != Z_STREAM_END) throw std::runtime_error("gzip did not end");
  return zipped;
}

void zipIfWorthIt(const Request& request, Response& response) {
  response.fields.emplace_back("Vary", "Accept-Encoding");
  if (!request.takesGzip || response.body.size() < worthZipping) return;
  response.body = gzip(response.body);
  response.fields.emplace_back("Content-Encoding", "gzip");
}

}  // namespace swardwalk::server
