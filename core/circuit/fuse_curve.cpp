#include "core/circuit/fuse_curve.h"

#include <array>
#include <cmath>
#include <limits>

#include "core/circuit/load_curve.h"

namespace yw::circuit {

namespace {

struct Point {
  double multiple, seconds;
};
// At 600 % no least time is published: that of 350 % going down as the most does.
constexpr std::array<Point, 6> kLeast{
    {{1.1, 360'000.0}, {1.35, 0.75}, {1.6, 0.25}, {2.0, 0.15}, {3.5, 0.08}, {6.0, 0.024}}};
constexpr std::array<Point, 5> kMost{{{1.35, 600.0}, {1.6, 50.0}, {2.0, 5.0}, {3.5, 0.5}, {6.0, 0.15}}};

template <std::size_t N>
double at(const std::array<Point, N>& points, double multiple) {
  if (!(multiple >= points.front().multiple)) return std::numeric_limits<double>::infinity();
  if (multiple >= points.back().multiple) return points.back().seconds;
  std::size_t i = 1;
  while (multiple >= points[i].multiple) ++i;
  const Point &a = points[i - 1], &b = points[i];
  if (multiple == a.multiple) return a.seconds;
  const double share = seriesLog(multiple / a.multiple) / seriesLog(b.multiple / a.multiple);
  return a.seconds * std::exp(share * std::log(b.seconds / a.seconds));
}

}  // namespace

OpeningTime openingTime(double multiple) { return {at(kLeast, multiple), at(kMost, multiple)}; }

}  // namespace yw::circuit
