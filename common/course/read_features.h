#pragma once

#include <boost/json/fwd.hpp>

#include "common/course/features.h"

/// Bodies that passed their check, as plain values. What a body lacks stays absent.
namespace swardwalk::course {

/// Both halves of a body, and where it comes from.
struct Feature {
  const boost::json::object* properties = nullptr;
  const boost::json::value* geometry = nullptr;  ///< nullptr: nowhere
  Source source;
};

CourseInfo readCourse(const Feature& feature);
Green readGreen(const Feature& feature);
Surround readSurround(const Feature& feature);
Mark readMark(const Feature& feature);
Sighting readSighting(const Feature& feature);
Frame readFrame(const Feature& feature);
Closed readClosed(const Feature& feature);
Repair readRepair(const Feature& feature);
CameUp readCameUp(const Feature& feature);
Photo readPhoto(const Feature& feature);
Choice readChoice(const Feature& feature);
Temperature readTemperature(const Feature& feature);
Mowing readMowing(const Feature& feature);
Feeding readFeeding(const Feature& feature);
Round readRound(const Feature& feature);
Join readJoin(const Feature& feature);
turf::SeedLot readSeedLot(const Feature& feature);
turf::Feed readFeed(const Feature& feature);
turf::Fill readFill(const Feature& feature);
turf::Turf readTurf(const Feature& feature);
/// Nothing where the material states no stock.
std::optional<StockCount> readStockCount(const Feature& feature, Shelf shelf);

/// Rain or watering; where it covers a day, `from` and `to` wait for the time zone.
struct ReadWater {
  Water water;
  std::optional<measure::Date> on;
};
ReadWater readWater(const Feature& feature);

}  // namespace swardwalk::course
