#pragma once

#include <string>
#include <string_view>
#include <unordered_set>
#include <vector>

namespace swardwalk::server {

/// From now on what the shed logs goes to standard error.
/// `level` as the command line has it; empty: info.
void logToStandardError(const std::string& level = {});
/// And to `shed.log` in this directory, too: some megabytes at most, the oldest go first.
/// Where that file cannot be written, standard error says so and gets the rest alone.
void logBeside(const std::string& directory);

/// The newest lines of `shed.log` and of the file before it, oldest first.
std::vector<std::string> newestLogLines(const std::string& directory, std::size_t most);

/// A line of the log without what nobody elsewhere needs to know: paths, addresses, numbers
/// with three and more decimals (places), and the words in `names`. Its time stays.
std::string scrubbed(std::string_view line, const std::unordered_set<std::string>& names);

/// Adds the words of a name: letters, digits and whatever is not ASCII. One letter or
/// digits alone are nobody's name, and would take away every number.
void addWords(std::string_view name, std::unordered_set<std::string>& words);

}  // namespace swardwalk::server
