#include "core/routes/lattice.h"

#include <algorithm>
#include <cmath>

namespace yw::routes {

namespace {

constexpr double kFarthest = 1e15;  // nm; keeps every product below inside 128 bits

int signOf(base::Int128 v) { return (v > 0) - (v < 0); }

std::int64_t drawnIn(double metres) { return std::llround(std::clamp(metres * 1e9, -kFarthest, kFarthest)); }

}  // namespace

Spot spotOf(base::Vec2 place) { return {drawnIn(place.x), drawnIn(place.y)}; }

int turn(Spot a, Spot b, Spot c) {
  const std::int64_t ux = b.x - a.x, uy = b.y - a.y, vx = c.x - a.x, vy = c.y - a.y;
  const double left = static_cast<double>(ux) * static_cast<double>(vy);
  const double right = static_cast<double>(uy) * static_cast<double>(vx);
  const double det = left - right;
  // Each product is off by at most 2^-53 of itself, the differences are exact: beyond this the sign is sure.
  const double doubt = 4.0 * 0x1p-53 * (std::abs(left) + std::abs(right));
  if (det > doubt) return 1;
  if (det < -doubt) return -1;
  return signOf(static_cast<base::Int128>(ux) * vy - static_cast<base::Int128>(uy) * vx);
}

bool onOpenSegment(Spot a, Spot b, Spot p) {
  if (p == a || p == b) return false;
  if (p.x < std::min(a.x, b.x) || p.x > std::max(a.x, b.x)) return false;
  if (p.y < std::min(a.y, b.y) || p.y > std::max(a.y, b.y)) return false;
  return turn(a, b, p) == 0;
}

bool goesInto(const Wedge& wedge, Spot corner, Spot towards) {
  const int opening = turn(corner, wedge.from, wedge.to);
  if (opening > 0) return turn(corner, wedge.from, towards) > 0 && turn(corner, towards, wedge.to) > 0;
  if (opening < 0) return !(turn(corner, wedge.to, towards) >= 0 && turn(corner, towards, wedge.from) >= 0);
  const base::Int128 along = static_cast<base::Int128>(wedge.from.x - corner.x) * (wedge.to.x - corner.x) +
                             static_cast<base::Int128>(wedge.from.y - corner.y) * (wedge.to.y - corner.y);
  return along < 0 && turn(corner, wedge.from, towards) > 0;  // a straight edge; a spike blocks nothing
}

int windingOf(const std::vector<Spot>& ring) {
  if (ring.empty()) return 0;
  base::Int128 twiceArea = 0;
  const Spot o = ring.front();
  for (std::size_t i = 1; i + 1 < ring.size(); ++i)
    twiceArea += static_cast<base::Int128>(ring[i].x - o.x) * (ring[i + 1].y - o.y) -
                 static_cast<base::Int128>(ring[i].y - o.y) * (ring[i + 1].x - o.x);
  return signOf(twiceArea);
}

}  // namespace yw::routes
