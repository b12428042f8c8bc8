// Reads pairs of outlines on the plane from standard input, one a line: each outline as the
// number of its points and their coordinates in metres. Prints for each pair both areas and
// the area shared, m2.
#include <iostream>
#include <sstream>
#include <string>

#include "common/geo/outline.h"

int main() {
  std::cout.precision(17);
  for (std::string line; std::getline(std::cin, line);) {
    std::istringstream words(line);
    const auto readShape = [&words] {
      std::size_t points = 0;
      words >> points;
      swardwalk::geo::LocalRing ring(points);
      for (auto& point : ring) words >> point.east_m >> point.north_m;
      return swardwalk::geo::LocalShape{{ring, {}}};
    };
    const auto a = readShape();
    const auto b = readShape();
    if (!words) return 1;
    std::cout << swardwalk::geo::area_m2(a) << ' ' << swardwalk::geo::area_m2(b) << ' '
              << swardwalk::geo::sharedArea_m2(a, b) << '\n';
  }
}
