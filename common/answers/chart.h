#pragma once

#include <optional>
#include <string>
#include <vector>

#include "common/measure/instant.h"

namespace swardwalk::answers {

/// Colours a chart is drawn with, as #RRGGBB.
struct ChartColours {
  std::string ink = "#10201A";
  std::string ink2 = "#3B4A43";
  std::string line = "#B9BEAE";
  std::string good = "#0A5A3A";
  std::string stop = "#9B1C1C";
  std::string paper = "#FFFFFF";
};

/// The colours of the dark theme.
ChartColours darkChartColours();

struct ChartDot {
  double day = 0.0;  ///< days since 1970
  double value = 0.0;
  std::optional<double> u;
  bool newChapter = false;  ///< the line breaks before it
};

struct ChartPoint {
  double day = 0.0;
  double value = 0.0;
  double low = 0.0;
  double high = 0.0;
};

struct Chart {
  std::string title;                 ///< what a screen reader says; not drawn
  std::string axis;                  ///< "bare, m²"
  std::vector<ChartDot> seen;        ///< by day
  std::vector<ChartPoint> computed;  ///< by day; of the last chapter
  std::optional<double> openingDay;
  bool late = false;  ///< the opening day is drawn in the colour of what is late
  std::optional<double> limit;
  std::string endLabel;  ///< lines by line feeds, the first bold; at the end of the line
  ChartColours colours;
  std::string family = "B612";  ///< of the font
  int width = 560;
  int height = 260;
};

/// SVG 1.1 (Tiny subset: no CSS, no clipping), the same on tablet, page and print. Days
/// are marked at midnight UTC. Finite input only; an empty chart shows its axes and says
/// that nothing was measured.
std::string svg(const Chart& chart);

}  // namespace swardwalk::answers
