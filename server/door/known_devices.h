#pragma once

#include <set>
#include <string>
#include <vector>

#include "common/failure.h"
#include "common/journal/journal.h"
#include "server/door/devices.h"

namespace swardwalk::server {

/// Every device that a directory knows: those of the door, and those whose records are
/// here although they were never paired.
Result<std::vector<Device>> knownDevices(Devices& door, const journal::Journal& journal);
Result<std::vector<Device>> knownDevices(const std::string& directory,
                                         const journal::Journal& journal);

/// The origins that were shut out; none where the directory never was a shed.
Result<std::set<journal::OriginKey>> shutOutOf(const std::string& directory);

}  // namespace swardwalk::server
