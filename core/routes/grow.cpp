// The library's envelope is filled before it is read, which the compiler does not see at every level.
#if defined(__GNUC__) && !defined(__clang__)
#pragma GCC diagnostic ignored "-Wmaybe-uninitialized"
#endif
#include <algorithm>
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/linestring.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>
#include <cmath>

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

std::vector<std::vector<std::vector<Spot>>> regionsOf(const BgMany& answer) {
  std::vector<std::vector<std::vector<Spot>>> out;
  for (const BgPolygon& part : answer) {
    std::vector<std::vector<Spot>> rings{spotsOf(part.outer(), 1)};
    if (rings.front().empty()) continue;
    for (const auto& hole : part.inners())
      if (auto ring = spotsOf(hole, -1); !ring.empty()) rings.push_back(std::move(ring));
    out.push_back(std::move(rings));
  }
  return out;
}

}  // namespace

std::vector<std::vector<std::vector<Spot>>> stripAlong(const std::vector<Spot>& line, double by) {
  bg::model::linestring<BgPoint> drawn;
  for (const Spot s : line) drawn.emplace_back(vecOf(s).x, vecOf(s).y);
  if (drawn.size() < 2 || by <= 0) return {};
  // The ends are lengthened by hand: the library's flat ends stop at the line's own.
  const auto longer = [by](BgPoint& end, const BgPoint& from) {
    const double dx = end.x() - from.x(), dy = end.y() - from.y(), length = std::hypot(dx, dy);
    if (length > 0) end = BgPoint(end.x() + dx / length * by, end.y() + dy / length * by);
  };
  longer(drawn.back(), drawn[drawn.size() - 2]);
  longer(drawn.front(), drawn[1]);
  BgMany answer;
  bg::buffer(drawn, answer, bg::strategy::buffer::distance_symmetric<double>(by),
             bg::strategy::buffer::side_straight(), bg::strategy::buffer::join_miter(kMiterLimit),
             bg::strategy::buffer::end_flat(), bg::strategy::buffer::point_square());
  return regionsOf(answer);
}

std::vector<std::vector<std::vector<Spot>>> grown(const std::vector<std::vector<Spot>>& region, double by) {
  BgPolygon polygon;
  polygon.inners().resize(region.size() - 1);
  for (std::size_t i = 0; i < region.size(); ++i)
    for (const Spot s : region[i])
      (i == 0 ? polygon.outer() : polygon.inners()[i - 1]).emplace_back(vecOf(s).x, vecOf(s).y);
  bg::correct(polygon);
  BgMany answer;
  bg::buffer(polygon, answer, bg::strategy::buffer::distance_symmetric<double>(by),
             bg::strategy::buffer::side_straight(), bg::strategy::buffer::join_miter(kMiterLimit),
             bg::strategy::buffer::end_flat(), bg::strategy::buffer::point_square());
  std::vector<std::vector<std::vector<Spot>>> out = regionsOf(answer);
  // The library may lose parts of an outline that crosses itself or is thin as a hair: what it lost stays as
  // drawn.
  const bool whole = std::all_of(region[0].begin(), region[0].end(), [&](Spot s) {
    return std::any_of(out.begin(), out.end(),
                       [&](const auto& rings) { return sideOf(rings, s) == Side::Inside; });
  });
  if (!whole) out.push_back(region);
  return out;
}

}  // namespace yw::routes
