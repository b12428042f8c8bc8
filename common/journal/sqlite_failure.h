#pragma once

#include <string>

#include "common/failure.h"

namespace SQLite {
class Exception;
}

namespace swardwalk::journal {

/// The name of a (possibly extended) result code, as SQLite's documentation has it.
std::string codeName(int extendedCode);

/// What went wrong with a file, in words; `doing` reads on from "while".
Failure failureOf(const SQLite::Exception& error, const std::string& file, const char* doing);

}  // namespace swardwalk::journal
