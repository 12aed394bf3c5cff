#include "core/routes/lattice.h"

#include <algorithm>
#include <cmath>

namespace yw::routes {

namespace {

constexpr double kFarthest = 1e15;  // nm; keeps every product below inside 128 bits

std::int64_t drawnIn(double metres) { return std::llround(std::clamp(metres * 1e9, -kFarthest, kFarthest)); }

}  // namespace

Spot spotOf(base::Vec2 place) { return {drawnIn(place.x), drawnIn(place.y)}; }

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
  return (twiceArea > 0) - (twiceArea < 0);
}

}  // namespace yw::routes
