// Makes data/journal-v1.sqlite, once: a journal of format version 1 with invented content,
// which every later version must read. Never run it again for the same version.

#include <cstdio>
#include <filesystem>
#include <iostream>

#include "tests/common/journal/devices.h"

using namespace swardwalk::journal;

namespace {

Draft sighting(const std::string& patch, const std::string& body, std::int64_t wall_ms) {
  Draft draft;
  draft.type = "sighting";
  draft.subject = patch;
  draft.author.fill(0xA1);
  draft.wall_ms = wall_ms;
  draft.clockSource = ClockSource::shed;
  draft.clockOffset_ms = -2500;
  draft.body = body;
  return draft;
}

std::string washed(const std::string& patch, const std::string& length) {
  return R"({"geometry":null,"properties":{"patch":")" + patch +
         R"(","kind":"washed","seen":"2027-04-12T06:40:00+01:00","length_m":)" + length +
         R"(,"width_m":0.8}})";
}

void fill(const std::string& file, const TempFolder& folder) {
  constexpr std::int64_t morning_ms = 1'807'514'400'000;
  Device shed(file, 1);
  shed.found();
  Draft unknown = sighting("N7", R"({"geometry":null,"properties":{"of":"a later version"}})", 0);
  unknown.type = "made_later";
  unknown.version = 9;
  shed.write(noteOn("A", "\"first\""));
  shed.write(unknown);

  // A tablet, of which a copy wrote on under the same key.
  const std::string tabletFile = folder.file("tablet");
  const std::string copyFile = folder.file("copy");
  {
    Device tablet(tabletFile, 2);
    tablet.adoptFrom(shed);
    tablet.write(sighting("N7", washed("N7", "1.4"), morning_ms));
  }
  std::filesystem::copy_file(tabletFile, copyFile);
  Device tablet(tabletFile, 2);
  Device copy(copyFile, 2);
  tablet.write(sighting("N8", washed("N8", "2.25"), morning_ms + 60'000));
  copy.write(noteOn("A", "\"copy\""));
  copy.write(noteOn("Ü", "\"copy\""));
  const Record person = tablet.write(noteOn("P", "\"a name\""));

  // Somebody for whom nobody vouched.
  Device stranger(folder.file("stranger"), 3);
  stranger.adoptFrom(shed);
  stranger.write(noteOn("S", "\"waits\""));

  for (Device* device : {&tablet, &copy})
    expectTaken(shed.journal(), allRuns(device->journal()), TakeStatus::taken);
  expectTaken(shed.journal(), allRuns(stranger.journal()), TakeStatus::taken, Vouching::waiting);
  if (!shed.journal().erase(person.digest) || !shed.journal().setNote("peer shed", "0"))
    throw std::runtime_error("the journal could not be made");
  for (const Head& head : shed.journal().heads())
    std::cout << hex(head.origin) << ' ' << head.number << ' ' << hex(head.digest) << '\n';
  std::cout << hex(shed.journal().vector()) << '\n' << shed.state();
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2 || std::filesystem::exists(argv[1])) {
    std::cerr << "name a file that does not exist yet\n";
    return 2;
  }
  const TempFolder folder;
  fill(argv[1], folder);
  return 0;
}
