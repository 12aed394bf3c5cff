#pragma once
// Pixels along lines that bend: arcs, rings, polylines. Everything in metres and radians.
#include <cmath>
#include <string>
#include <vector>

#include "core/shapes/builder.h"

namespace yw::shapes {

/// The circle of radius 1 for drawing: 49 points anticlockwise from (1, 0), which the last one is again.
const std::vector<Vec2>& circlePoints();

/// Part of a circle in the front plane (y constant); angle 0 to the right, growing anticlockwise seen from
/// the front.
struct Arc {
  Vec3 centre;
  double radius = 0;
  double from = 0, to = 0;
  double length() const { return radius * std::abs(to - from); }
  Vec3 at(double angle) const;
  /// Points for drawing, ends included.
  std::vector<Vec3> line() const;
};

/// A closed ring in the front plane. Pixels lie half a pitch off 3 o'clock, so that an even count has true
/// halves.
struct Ring {
  Vec3 centre;
  double radius = 0;
  std::int64_t pixels = 0;
  int startHour = 6;       ///< 12, 3, 6 or 9
  bool clockwise = false;  ///< seen from the front
  std::string name;        ///< before the names of rows and joints, `ring 2`; empty for a lone ring
  bool oneRow = false;     ///< one row for all; else one a quarter
  std::vector<Vec3> line() const;
};

/// Adds the ring's pixels in string order, a row a quarter: `6 to 3 o'clock`.
void addRing(ShapeBuilder& build, const Ring& ring);

/// Choice `start`: the hour where a ring's string begins.
ChoiceInfo startHourChoice();
int startHourOf(const yard::Prop& prop);

/// Walks a polyline by distance.
class Polyline {
 public:
  /// At least two points, no two neighbours alike; closed: the last joins the first.
  Polyline(std::vector<Vec3> points, bool closed);
  double length() const { return along_.back(); }
  std::size_t sides() const { return along_.size() - 1; }
  double sideLength(std::size_t side) const { return along_[side + 1] - along_[side]; }
  double sideStart(std::size_t side) const { return along_[side]; }
  Vec3 at(double distance) const;
  const std::vector<Vec3>& corners() const { return points_; }  ///< closed: the first again at the end

 private:
  std::vector<Vec3> points_;
  std::vector<double> along_;  ///< distance of each corner from the first
};

}  // namespace yw::shapes
