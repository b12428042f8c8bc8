#include "common/answers/measure.h"

#include "common/interchange/outline_file.h"
#include "server/command/commands.h"
#include "server/command/files.h"

namespace swardwalk::server {

int runMeasure(const CommandLine& line, Console& console) {
  std::vector<answers::MeasuredOutline> outlines;
  int status = 0;
  const auto refused = [&](const Failure& failure) { status = refuse(console, failure); };
  for (const std::string& name : line.files) {
    auto bytes = readFile(name, interchange::limits::outlineFileBytes + 1);
    if (!bytes) {
      refused(bytes.error());
      continue;
    }
    const auto file = interchange::readOutlines({name, std::move(*bytes)});
    for (const Failure& failure : file.refusals) refused(failure);
    for (const answers::ToMeasure& outline : file.outlines) {
      auto measured = answers::measureOutline(outline, line.units);
      if (measured) {
        outlines.push_back(std::move(*measured));
        continue;
      }
      Failure failure = measured.error();
      failure.where = name + ", " + failure.where;
      refused(failure);
    }
  }
  switch (line.format) {
    case Format::text:
      if (!outlines.empty()) console.out << answers::measureText(outlines, line.units);
      break;
    case Format::json:
      console.out << answers::measureJson(outlines);
      break;
    case Format::csv:
      console.out << answers::measureCsv(outlines);
      break;
  }
  return status;
}

}  // namespace swardwalk::server
