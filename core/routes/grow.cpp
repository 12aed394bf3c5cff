// The library's envelope is filled before it is read, which the compiler does not see at every level.
#pragma GCC diagnostic ignored "-Wmaybe-uninitialized"
#include <algorithm>
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>

#include "core/routes/obstacles.h"

namespace yw::routes {

namespace {

namespace bg = boost::geometry;
using BgPoint = bg::model::d2::point_xy<double>;
using BgPolygon = bg::model::polygon<BgPoint, false, true>;  // anticlockwise, closed
using BgMany = bg::model::multi_polygon<BgPolygon>;

constexpr double kMiterLimit = 5.0;

template <class Ring>
std::vector<Spot> spotsOf(const Ring& ring, int winding) {
  std::vector<Spot> spots;
  for (const BgPoint& p : ring) {
    const Spot s = spotOf({p.x(), p.y()});
    if (spots.empty() || spots.back() != s) spots.push_back(s);
  }
  while (spots.size() > 1 && spots.front() == spots.back()) spots.pop_back();
  const int found = spots.size() < 3 ? 0 : windingOf(spots);
  if (found == 0) return {};
  if (found != winding) std::reverse(spots.begin(), spots.end());
  return spots;
}

}  // namespace

std::vector<std::vector<std::vector<Spot>>> grown(const std::vector<Spot>& outline, double by) {
  BgPolygon polygon;
  for (const Spot s : outline) bg::append(polygon.outer(), BgPoint(vecOf(s).x, vecOf(s).y));
  bg::correct(polygon);
  BgMany answer;
  bg::buffer(polygon, answer, bg::strategy::buffer::distance_symmetric<double>(by),
             bg::strategy::buffer::side_straight(), bg::strategy::buffer::join_miter(kMiterLimit),
             bg::strategy::buffer::end_flat(), bg::strategy::buffer::point_square());
  std::vector<std::vector<std::vector<Spot>>> out;
  for (const BgPolygon& part : answer) {
    std::vector<std::vector<Spot>> rings{spotsOf(part.outer(), 1)};
    if (rings.front().empty()) continue;
    for (const auto& hole : part.inners())
      if (auto ring = spotsOf(hole, -1); !ring.empty()) rings.push_back(std::move(ring));
    out.push_back(std::move(rings));
  }
  if (out.empty())
    out.push_back({outline});  // an outline that crosses itself may come back empty: keep it as drawn
  return out;
}

}  // namespace yw::routes
