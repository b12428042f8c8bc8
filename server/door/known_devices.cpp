#include "server/door/known_devices.h"

#include <algorithm>
#include <filesystem>

namespace swardwalk::server {

Result<std::vector<Device>> knownDevices(const std::string& directory,
                                         const journal::Journal& journal) {
  auto door = DoorFile::open(directory);
  if (!door) return tl::unexpected(door.error());
  Devices devices(**door);
  return knownDevices(devices, journal);
}

Result<std::vector<Device>> knownDevices(Devices& door, const journal::Journal& journal) {
  auto devices = door.all();
  if (!devices) return devices;
  for (const journal::OriginInfo& info : journal.origins()) {
    const bool known = std::any_of(devices->begin(), devices->end(), [&](const Device& device) {
      return device.origin == info.origin;
    });
    if (known) continue;
    Device device;
    device.origin = info.origin;
    if (info.origin == journal.origin()) device.name = "this directory";
    devices->push_back(device);
  }
  return devices;
}

Result<std::set<journal::OriginKey>> shutOutOf(const std::string& directory) {
  std::error_code ignored;  // what cannot be looked at fails when it is opened
  if (!std::filesystem::exists(directory + "/door.sqlite", ignored)) {
    return std::set<journal::OriginKey>{};
  }
  auto door = DoorFile::open(directory);
  if (!door) return tl::unexpected(door.error());
  return Devices(**door).shutOutOrigins();
}

}  // namespace swardwalk::server
