#pragma once

#include <cstddef>
#include <vector>

#include "common/geo/local_plane.h"

/// How far inward of a polygon's edge the points have that place of the edge as their
/// nearest: the radius of the largest circle inside that touches the edge there.
namespace swardwalk::geo {

/// Which edge stands in the way of a growing circle, or which inward corner.
struct Limit {
  std::size_t index = 0;
  bool corner = false;

  bool operator==(const Limit&) const = default;
};

/// A point of the edge and the direction inward, a unit vector.
struct Ray {
  LocalPoint foot;
  LocalPoint inward;
};

/// How far inward of a point of the edge points have it as their nearest.
struct Reach {
  double reach_m = 0.0;
  Limit by;
};

/// The straight pieces of one polygon. The inside lies to the left.
struct Edges {
  struct Edge {
    LocalPoint start;
    LocalPoint along;  ///< of length 1
    double length_m = 0.0;
    std::size_t previous = 0;
    std::size_t next = 0;
    bool inwardCorner = false;   ///< at its start
    bool outwardCorner = false;  ///< likewise; neither where it runs on straight
  };
  std::vector<Edge> list;
};

/// Adds a ring's edges, turned so that the inside lies to the left; none of a ring of fewer
/// than three different places.
void addRing(Edges& edges, const LocalRing& given, bool counterClockwise);

/// Finds reaches. The edges stand in columns of float, so that the loop over them runs
/// several at a time; its buffer is kept between calls: use from one thread.
class Reaches {
 public:
  /// `edges` is not empty and must outlive this.
  explicit Reaches(const Edges& edges);

  /// Radius, in metres, of the largest circle inside that touches the edge at the foot, its
  /// middle lying inward. `own` and `ownToo` are the edges that the foot lies on. Infinite
  /// where nothing limits it.
  Reach at(const Ray& ray, std::size_t own, std::size_t ownToo);

  /// The same as far as one limit says.
  double by(const Limit& limit, const Ray& ray) const;

 private:
  double toCorner(const Ray& ray, std::size_t i) const;
  void circlesToEdges(const Ray& ray);
  float leastRadius() const;

  const Edges& edges_;
  LocalPoint middle_;
  std::vector<float> startEast_, startNorth_, alongEast_, alongNorth_, length_;
  std::vector<LocalPoint> corners_;
  std::vector<float> radii_;
};

}  // namespace swardwalk::geo
