#include <fmt/format.h>

#include <algorithm>
#include <pugixml.hpp>

#include "common/geo/nmea.h"
#include "common/interchange/outline_readers.h"
#include "common/interchange/track_builder.h"

namespace swardwalk::interchange {
namespace {

/// The name without the prefix of its namespace.
std::string_view localName(const pugi::xml_node& node) {
  const std::string_view name = node.name();
  const std::size_t colon = name.find(':');
  return colon == std::string_view::npos ? name : name.substr(colon + 1);
}

pugi::xml_node childOf(const pugi::xml_node& parent, std::string_view name) {
  for (const pugi::xml_node& child : parent.children()) {
    if (localName(child) == name) return child;
  }
  return {};
}

void addPoint(TrackBuilder& track, const pugi::xml_node& point, std::size_t number) {
  const std::string where = fmt::format("point {}", number);
  const pugi::xml_node time = childOf(point, "time");
  const auto hdop = numberIn(childOf(point, "hdop").child_value());
  ReadPosition position{numberIn(point.attribute("lat").value()),
                        numberIn(point.attribute("lon").value()), std::nullopt,
                        timeIn(time.child_value())};
  if (hdop && *hdop > 0.0) position.accuracy_m = *hdop * geo::NmeaReader::usualRangeError_m;
  if (time && !position.time) return track.pass(where + ": the time is not as RFC 3339 has it");
  track.add(position, where);
}

class GpxReader {
 public:
  GpxReader(const OutlineText& text, OutlineFile& into) : text_(text), into_(into) {}

  void readRoot(const pugi::xml_node& root) {
    for (const pugi::xml_node& part : root.children()) {
      const std::string_view name = localName(part);
      if (name == "trk") readTrack(part);
      if (name == "rte") readRoute(part);
      if (name == "wpt") ++waypoints_;
    }
    if (into_.outlines.empty() && into_.refusals.empty()) {
      refuse(into_, text_.file,
             waypoints_ > 0 ? fmt::format("only {} waypoints are in it", waypoints_)
                            : std::string("no track and no route is in it"),
             "record a track round the patch");
    }
  }

 private:
  void readTrack(const pugi::xml_node& node) {
    TrackBuilder track;
    std::size_t number = 0;
    for (const pugi::xml_node& segment : node.children()) {
      if (localName(segment) != "trkseg") continue;
      for (const pugi::xml_node& point : segment.children()) {
        if (localName(point) == "trkpt" && !track.isFull()) addPoint(track, point, ++number);
      }
    }
    finish(node, std::move(track));
  }

  void readRoute(const pugi::xml_node& node) {
    TrackBuilder track;
    std::size_t number = 0;
    for (const pugi::xml_node& point : node.children()) {
      if (localName(point) == "rtept" && !track.isFull()) addPoint(track, point, ++number);
    }
    finish(node, std::move(track));
  }

  void finish(const pugi::xml_node& node, TrackBuilder track) {
    ++tracks_;
    std::string name = childOf(node, "name").child_value();
    if (name.empty()) name = tracks_ == 1 ? text_.name : fmt::format("{} {}", text_.name, tracks_);
    auto outline = std::move(track).build(name);
    if (!outline) {
      outline.error().where = fmt::format("{}, {}", text_.file, name);
      into_.refusals.push_back(std::move(outline.error()));
      return;
    }
    into_.outlines.push_back(std::move(*outline));
  }

  const OutlineText& text_;
  OutlineFile& into_;
  int tracks_ = 0;
  int waypoints_ = 0;
};

}  // namespace

void readGpxOutlines(const OutlineText& text, OutlineFile& into) {
  pugi::xml_document document;
  // Document types and their entities are left alone: nothing in GPX needs them.
  const pugi::xml_parse_result result = document.load_buffer(
      text.bytes.data(), text.bytes.size(), pugi::parse_default, pugi::encoding_utf8);
  if (!result) {
    const auto offset = std::min(
        static_cast<std::size_t>(std::max<std::ptrdiff_t>(result.offset, 0)), text.bytes.size());
    const auto line =
        1 + std::count(text.bytes.begin(), text.bytes.begin() + static_cast<std::ptrdiff_t>(offset),
                       '\n');
    refuse(into, fmt::format("{}, line {}", text.file, line),
           fmt::format("this is not whole XML ({})", result.description()),
           "copy the file again; it may have been cut off");
    return;
  }
  const pugi::xml_node root = document.document_element();
  if (localName(root) != "gpx") {
    refuse(into, text.file,
           fmt::format("XML, but not GPX: it begins with <{}>",
                       std::string_view(root.name()).substr(0, 40)),
           "save it as GPX 1.1");
    return;
  }
  GpxReader(text, into).readRoot(root);
}

}  // namespace swardwalk::interchange
