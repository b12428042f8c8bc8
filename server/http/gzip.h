#pragma once

#include <string>
#include <string_view>

#include "server/http/message.h"

namespace swardwalk::server {

/// RFC 1952.
std::string gzip(std::string_view bytes);

/// Compresses a text that is long enough to gain by it, where the asker takes gzip.
void zipIfWorthIt(const Request& request, Response& response);

}  // namespace swardwalk::server
