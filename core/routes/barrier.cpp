#include <algorithm>
#include <cmath>

#include "core/routes/visibility.h"

namespace yw::routes {

Barrier::Barrier(std::vector<Obstacle> obstacles) : obstacles_(std::move(obstacles)) {
  for (std::size_t i = 0; i < obstacles_.size(); ++i)
    for (const auto& ring : obstacles_[i].rings) {
      if (obstacles_[i].solid)
        addRing(static_cast<std::int32_t>(i), ring);
      else
        addChain(static_cast<std::int32_t>(i), ring, obstacles_[i].closed);
    }
  dropHiddenCorners();
}

void Barrier::addEdge(std::int32_t obstacle, bool solid, Spot a, Spot b) {
  edges_.push_back({a, b, std::min(a.x, b.x), std::max(a.x, b.x), std::min(a.y, b.y), std::max(a.y, b.y),
                    obstacle, solid});
}

void Barrier::addCorner(std::int32_t obstacle, Spot at, Spot before, Spot after, std::vector<Wedge> wedges,
                        int side) {
  corners_.push_back({at, before, after, std::move(wedges), obstacle, side});
}

void Barrier::addRing(std::int32_t obstacle, const std::vector<Spot>& ring) {
  const std::size_t n = ring.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Spot before = ring[(i + n - 1) % n], at = ring[i], after = ring[(i + 1) % n];
    addEdge(obstacle, true, at, after);
    const Wedge wedge{after, before};
    solidWedges_.emplace(at, std::pair{obstacle, wedge});
    // No shortest way bends at a corner that the obstacle surrounds by more than half.
    if (turn(before, at, after) >= 0) addCorner(obstacle, at, before, after, {wedge});
  }
}

void Barrier::addChain(std::int32_t obstacle, const std::vector<Spot>& chain, bool closed) {
  const std::size_t n = chain.size();
  for (std::size_t i = 0; i < n; ++i) {
    const bool last = i + 1 == n;
    if (!last || closed) addEdge(obstacle, false, chain[i], chain[(i + 1) % n]);
    if (!closed && (i == 0 || last)) {
      const Spot beside = i == 0 ? chain[1] : chain[n - 2];
      addCorner(obstacle, chain[i], beside, beside, {});
      continue;
    }
    // One corner for each side of the fence, so that no way slips through where it bends.
    const Spot before = chain[(i + n - 1) % n], at = chain[i], after = chain[(i + 1) % n];
    const int bend = turn(before, at, after);
    if (bend <= 0) addCorner(obstacle, at, before, after, {{before, after}}, 1);
    if (bend >= 0) addCorner(obstacle, at, before, after, {{after, before}}, -1);
  }
}

void Barrier::dropHiddenCorners() {
  std::vector<Corner> kept;
  for (Corner& corner : corners_) {
    if (holding(corner.at) >= 0) continue;
    const bool onOtherFence = std::any_of(edges_.begin(), edges_.end(), [&](const Edge& e) {
      return !e.solid && e.obstacle != corner.obstacle && onOpenSegment(e.a, e.b, corner.at);
    });
    if (onOtherFence) continue;
    const auto [first, end] = solidWedges_.equal_range(corner.at);
    for (auto it = first; it != end; ++it)
      if (it->second.first != corner.obstacle) corner.wedges.push_back(it->second.second);
    kept.push_back(std::move(corner));
  }
  corners_ = std::move(kept);
}

std::vector<Wedge> Barrier::wedgesAt(Spot spot) const {
  std::vector<Wedge> out;
  const auto [first, end] = solidWedges_.equal_range(spot);
  for (auto it = first; it != end; ++it) out.push_back(it->second.second);
  return out;
}

bool Barrier::free(Spot p, const std::vector<Wedge>& atP, Spot q, const std::vector<Wedge>& atQ) const {
  for (const Wedge& w : atP)
    if (goesInto(w, p, q)) return false;
  for (const Wedge& w : atQ)
    if (goesInto(w, q, p)) return false;
  const std::int64_t lowX = std::min(p.x, q.x), highX = std::max(p.x, q.x);
  const std::int64_t lowY = std::min(p.y, q.y), highY = std::max(p.y, q.y);
  for (const Edge& e : edges_) {
    if (e.highX < lowX || e.lowX > highX || e.highY < lowY || e.lowY > highY) continue;
    const int a = turn(p, q, e.a), b = turn(p, q, e.b);
    if (a * b > 0) continue;
    const int fromP = turn(e.a, e.b, p), fromQ = turn(e.a, e.b, q);
    if (a * b < 0 && fromP * fromQ < 0) return false;
    if (a == 0 && onOpenSegment(p, q, e.a)) return false;
    if (b == 0 && onOpenSegment(p, q, e.b)) return false;
    if (!e.solid) continue;
    if (fromP == 0 && fromQ > 0 && onOpenSegment(e.a, e.b, p)) return false;  // from the edge into the inside
    if (fromQ == 0 && fromP > 0 && onOpenSegment(e.a, e.b, q)) return false;
  }
  return true;
}

std::int32_t Barrier::holding(Spot spot) const {
  for (std::size_t i = 0; i < obstacles_.size(); ++i)
    if (obstacles_[i].solid && sideOf(obstacles_[i].rings, spot) == Side::Inside)
      return static_cast<std::int32_t>(i);
  return -1;
}

Spot Barrier::freeSpotNear(base::Vec2 place, bool& found) const {
  const Spot middle = spotOf(place);
  for (std::int64_t ring = 0; ring <= 3; ++ring)
    for (std::int64_t dx = -ring; dx <= ring; ++dx)
      for (std::int64_t dy = -ring; dy <= ring; ++dy) {
        if (std::max(std::abs(dx), std::abs(dy)) != ring) continue;
        const Spot s{middle.x + dx, middle.y + dy};
        if (holding(s) < 0) {
          found = true;
          return s;
        }
      }
  found = false;
  return middle;
}

namespace {

base::Vec2 nearestOn(base::Vec2 a, base::Vec2 b, base::Vec2 p) {
  const base::Vec2 d = b - a;
  const double k = std::clamp(base::dot(p - a, d) / base::dot(d, d), 0.0, 1.0);
  return a + d * k;
}

}  // namespace

Spot Barrier::wayOut(Spot spot) const {
  if (holding(spot) < 0) return spot;
  // The nearest free place is the foot on an edge, a corner, or where edges of two obstacles meet.
  std::vector<std::pair<double, base::Vec2>> places;
  const base::Vec2 p = vecOf(spot);
  for (const Edge& e : edges_) {
    if (!e.solid) continue;
    const base::Vec2 foot = nearestOn(vecOf(e.a), vecOf(e.b), p);
    places.emplace_back(base::distance(p, foot), foot);
  }
  for (std::size_t i = 0; i < edges_.size(); ++i)
    for (std::size_t j = i + 1; j < edges_.size(); ++j) {
      const Edge &e = edges_[i], &f = edges_[j];
      if (!e.solid || !f.solid || e.obstacle == f.obstacle) continue;
      if (turn(e.a, e.b, f.a) * turn(e.a, e.b, f.b) >= 0 || turn(f.a, f.b, e.a) * turn(f.a, f.b, e.b) >= 0)
        continue;
      const base::Vec2 d = vecOf(e.b) - vecOf(e.a), g = vecOf(f.b) - vecOf(f.a);
      const base::Vec2 at = vecOf(e.a) + d * (base::cross(vecOf(f.a) - vecOf(e.a), g) / base::cross(d, g));
      places.emplace_back(base::distance(p, at), at);
    }
  std::stable_sort(places.begin(), places.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  for (const auto& [length, place] : places) {
    bool found = false;
    const Spot s = freeSpotNear(place, found);
    if (found) return s;
  }
  return spot;
}

bool Barrier::shareInside(Spot p, Spot q) const {
  for (std::size_t i = 0; i < obstacles_.size(); ++i) {
    if (!obstacles_[i].solid) continue;
    if (sideOf(obstacles_[i].rings, p) != Side::Inside || sideOf(obstacles_[i].rings, q) != Side::Inside)
      continue;
    const bool leaves = std::any_of(edges_.begin(), edges_.end(), [&](const Edge& e) {
      return e.obstacle == static_cast<std::int32_t>(i) && turn(p, q, e.a) * turn(p, q, e.b) <= 0 &&
             turn(e.a, e.b, p) * turn(e.a, e.b, q) <= 0;
    });
    if (!leaves) return true;
  }
  return false;
}

}  // namespace yw::routes
