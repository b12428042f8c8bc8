#include <boost/json.hpp>

#include "common/course/course_fold.h"
#include "common/course/recorder.h"
#include "common/journal/folder.h"
#include "server/command/commands.h"
#include "server/command/csv.h"
#include "server/door/known_devices.h"

namespace swardwalk::server {
namespace {

journal::OriginInfo infoOf(const journal::Journal& journal, const journal::OriginKey& origin) {
  for (const journal::OriginInfo& info : journal.origins()) {
    if (info.origin == origin) return info;
  }
  journal::OriginInfo none;
  none.origin = origin;
  return none;
}

}  // namespace

int runAccept(const CommandLine& line, Console& console) {
  course::CourseFold fold;
  auto journal = journal::openFolder(line.data, journal::Missing::refuse, fold);
  if (!journal) return refuse(console, journal.error());
  const auto devices = knownDevices(line.data, *journal);
  if (!devices) return refuse(console, devices.error());
  const auto device = deviceNamed(*devices, line.origin);
  if (!device) return refuse(console, device.error());

  const journal::OriginInfo info = infoOf(*journal, device->origin);
  if (!info.accepted) {
    course::Recorder recorder(*journal, {}, console.now_ms);
    const auto accepted = recorder.accept(info.origin);
    if (!accepted) return refuse(console, accepted.error());
  }
  if (device->shutOut) {
    auto door = DoorFile::open(line.data);
    if (!door) return refuse(console, door.error());
    if (auto let = Devices(**door).accept(info.origin); !let) return refuse(console, let.error());
  }
  const bool before = info.accepted && !device->shutOut;
  const std::string origin = journal::hex(info.origin);
  const std::string records = std::to_string(info.records);
  switch (line.format) {
    case Format::text:
      console.out << origin << (before ? " was accepted before" : " is accepted from now on")
                  << ", " << records << (info.records == 1 ? " record" : " records") << '\n';
      break;
    case Format::json:
      console.out << boost::json::serialize(
                         boost::json::object{{"accepted", origin}, {"records", info.records}})
                  << '\n';
      break;
    case Format::csv:
      console.out << csvLine({"accepted", "records"}) << csvLine({origin, records});
      break;
  }
  return 0;
}

}  // namespace swardwalk::server
