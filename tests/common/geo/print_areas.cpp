// Prints the ground area of the small polygons, one a line: coordinates as WKT, area.
#include <cstdio>

#include "common/geo/outline.h"
#include "small_polygons.h"

int main() {
  for (const auto& polygon : swardwalk::geo::smallPolygons()) {
    std::printf("POLYGON((");
    for (const auto& position : polygon.ring) {
      std::printf("%.9f %.9f,", position.longitude_deg, position.latitude_deg);
    }
    std::printf("%.9f %.9f))|%.12f\n", polygon.ring.front().longitude_deg,
                polygon.ring.front().latitude_deg,
                swardwalk::geo::groundArea_m2({{polygon.ring, {}}}));
  }
}
