#pragma once

#include <string>

#include "common/failure.h"
#include "server/command/command_line.h"

namespace swardwalk::server {

/// Reads what `serve` is told in `line.config`, TOML 1.0: `data`, `listen`, `guarded`,
/// `certificate`, `key`, `log_level`. What the command line says already stays; paths are
/// seen from the file's own folder. `invalid`, with the line, for anything else in it;
/// `notFound` where there is no such file.
Result<void> readConfig(CommandLine& line);

}  // namespace swardwalk::server
