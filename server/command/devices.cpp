#include <boost/json.hpp>

#include "common/course/course_fold.h"
#include "common/journal/folder.h"
#include "common/measure/instant.h"
#include "server/command/commands.h"
#include "server/command/csv.h"
#include "server/door/known_devices.h"

namespace swardwalk::server {
namespace {

std::string timeText(const std::optional<std::int64_t>& time_ms) {
  if (!time_ms) return {};
  return measure::Zone::utc().write(measure::Instant(std::chrono::milliseconds(*time_ms)));
}

boost::json::value timeJson(const std::optional<std::int64_t>& time_ms) {
  return time_ms ? boost::json::value(timeText(time_ms)) : boost::json::value(nullptr);
}

const char* stateOf(const Device& device) {
  if (device.shutOut) return device.paired ? "paired, waits" : "shut out";
  return device.paired ? "paired" : "not paired";
}

void print(const CommandLine& line, Console& console, const std::vector<Device>& devices) {
  boost::json::array listed;
  if (line.format == Format::csv) {
    console.out << csvLine({"origin", "name", "state", "paired", "last_seen"});
  }
  for (const Device& device : devices) {
    const std::string origin = journal::hex(device.origin);
    switch (line.format) {
      case Format::text:
        console.out << origin.substr(0, 8) << "  " << stateOf(device)
                    << (device.name.empty() ? "" : "  " + device.name)
                    << (device.seen_ms ? "  last seen " + timeText(device.seen_ms) : "") << '\n';
        break;
      case Format::json:
        listed.push_back(boost::json::object{{"origin", origin},
                                             {"name", device.name},
                                             {"paired", device.paired},
                                             {"shut_out", device.shutOut},
                                             {"paired_at", timeJson(device.paired_ms)},
                                             {"last_seen", timeJson(device.seen_ms)}});
        break;
      case Format::csv:
        console.out << csvLine({origin, device.name, stateOf(device), timeText(device.paired_ms),
                                timeText(device.seen_ms)});
        break;
    }
  }
  if (line.format == Format::json) {
    console.out << boost::json::serialize(boost::json::object{{"devices", std::move(listed)}})
                << '\n';
  }
}

}  // namespace

int runDevices(const CommandLine& line, Console& console) {
  course::CourseFold fold;
  const auto journal = journal::openFolder(line.data, journal::Missing::refuse, fold);
  if (!journal) return refuse(console, journal.error());
  const auto devices = knownDevices(line.data, *journal);
  if (!devices) return refuse(console, devices.error());
  print(line, console, *devices);
  return 0;
}

int runShutOut(const CommandLine& line, Console& console) {
  course::CourseFold fold;
  const auto journal = journal::openFolder(line.data, journal::Missing::refuse, fold);
  if (!journal) return refuse(console, journal.error());
  const auto devices = knownDevices(line.data, *journal);
  if (!devices) return refuse(console, devices.error());
  const auto device = deviceNamed(*devices, line.device);
  if (!device) return refuse(console, device.error());
  if (device->origin == journal->origin()) {
    return refuse(console, {FailureKind::refused, line.device, "this is the shed itself",
                            "name a device that exchanges with it"});
  }
  auto door = DoorFile::open(line.data);
  if (!door) return refuse(console, door.error());
  if (auto done = Devices(**door).shutOut(device->origin); !done) {
    return refuse(console, done.error());
  }
  const std::string origin = journal::hex(device->origin);
  switch (line.format) {
    case Format::text:
      console.out << origin << (device->name.empty() ? "" : " (" + device->name + ")")
                  << " is shut out. What it delivered stays; what it writes from now on waits "
                     "until the accept command lets it in.\n";
      break;
    case Format::json:
      console.out << boost::json::serialize(boost::json::object{{"shut_out", origin}}) << '\n';
      break;
    case Format::csv:
      console.out << csvLine({"shut_out"}) << csvLine({origin});
      break;
  }
  return 0;
}

}  // namespace swardwalk::server
