#include <algorithm>
#include <optional>

#include "core/routes/obstacles.h"

namespace yw::routes {

namespace {

using base::Vec2;

constexpr double kGap = 0.005;      // m: a lead is thicker than that, so it does not pass
constexpr double kGrowth = 0.006;   // m: more than the gap, so that grown outlines overlap
constexpr double kWhisker = 0.012;  // m: a fence's end is drawn on across what it ends at

double fromSegment(Vec2 p, Vec2 a, Vec2 b) {
  const Vec2 d = b - a;
  const double square = base::dot(d, d);
  const double k = square > 0.0 ? std::clamp(base::dot(p - a, d) / square, 0.0, 1.0) : 0.0;
  return base::distance(p, a + d * k);
}

struct Segment {
  Spot a, b;
};

std::vector<Segment> segmentsOf(const Obstacle& o) {
  std::vector<Segment> out;
  for (const auto& ring : o.rings)
    for (std::size_t i = 0; i < ring.size(); ++i) {
      if (i + 1 < ring.size())
        out.push_back({ring[i], ring[i + 1]});
      else if (o.closed && ring.size() > 2)
        out.push_back({ring[i], ring[0]});
    }
  return out;
}

bool near(const Segment& s, const Segment& t) {
  const Vec2 a = vecOf(s.a), b = vecOf(s.b), c = vecOf(t.a), d = vecOf(t.b);
  if (std::max(a.x, b.x) + kGap < std::min(c.x, d.x) || std::max(c.x, d.x) + kGap < std::min(a.x, b.x))
    return false;
  if (std::max(a.y, b.y) + kGap < std::min(c.y, d.y) || std::max(c.y, d.y) + kGap < std::min(a.y, b.y))
    return false;
  if (turn(s.a, s.b, t.a) * turn(s.a, s.b, t.b) < 0 && turn(t.a, t.b, s.a) * turn(t.a, t.b, s.b) < 0)
    return true;
  return std::min({fromSegment(a, c, d), fromSegment(b, c, d), fromSegment(c, a, b), fromSegment(d, a, b)}) <=
         kGap;
}

bool near(const Obstacle& o, const Obstacle& p) {
  const auto mine = segmentsOf(o), theirs = segmentsOf(p);
  return std::any_of(mine.begin(), mine.end(), [&](const Segment& s) {
    return std::any_of(theirs.begin(), theirs.end(), [&](const Segment& t) { return near(s, t); });
  });
}

bool meet(Spot a, Spot b) { return base::distance(vecOf(a), vecOf(b)) <= kGap; }
bool openFence(const Obstacle& o) { return !o.solid && !o.closed; }

/// Hangs `more` on `chain` where their ends meet; false if they do not.
bool joined(std::vector<Spot>& chain, std::vector<Spot> more) {
  if (meet(chain.back(), more.back()) || meet(chain.front(), more.back()))
    std::reverse(more.begin(), more.end());
  if (!meet(chain.back(), more.front())) std::reverse(chain.begin(), chain.end());
  if (!meet(chain.back(), more.front())) return false;
  chain.insert(chain.end(), more.begin() + (chain.back() == more.front() ? 1 : 0), more.end());
  return true;
}

void joinFences(std::vector<Obstacle>& all) {
  for (std::size_t i = 0; i < all.size(); ++i) {
    for (std::size_t j = i + 1; openFence(all[i]) && j < all.size();) {
      if (openFence(all[j]) && joined(all[i].rings[0], all[j].rings[0])) {
        all.erase(all.begin() + static_cast<std::ptrdiff_t>(j));
        j = i + 1;  // the longer chain may now meet one that was passed over
      } else {
        ++j;
      }
    }
    auto& chain = all[i].rings[0];
    if (openFence(all[i]) && chain.size() > 3 && meet(chain.front(), chain.back())) {
      if (chain.front() == chain.back()) chain.pop_back();
      all[i].closed = true;
    }
  }
}

Spot drawnOn(Spot before, Spot end) {
  const Vec2 e = vecOf(end), d = e - vecOf(before);
  return spotOf(e + d * (kWhisker / base::norm(d)));
}

/// Draws the ends of fences that touch a fence on across it, so that no way passes where they touch.
void crossFenceEnds(std::vector<Obstacle>& all) {
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (!openFence(all[i])) continue;
    auto& chain = all[i].rings[0];
    for (int side = 0; side < 2; ++side) {
      const Spot end = side == 0 ? chain.front() : chain.back();
      const Spot before = side == 0 ? chain[1] : chain[chain.size() - 2];
      const bool touches = std::any_of(all.begin(), all.end(), [&](const Obstacle& o) {
        if (o.solid) return false;
        const auto segments = segmentsOf(o);
        return std::any_of(segments.begin(), segments.end(),
                           [&](const Segment& s) {
                             return s.a != end && s.b != end &&
                                    fromSegment(vecOf(end), vecOf(s.a), vecOf(s.b)) <= kGap;
                           }) ||
               (&o != &all[i] && std::find(o.rings[0].begin(), o.rings[0].end(), end) != o.rings[0].end());
      });
      if (touches) (side == 0 ? chain.front() : chain.back()) = drawnOn(before, end);
    }
  }
}

void growTouching(std::vector<Obstacle>& all) {
  std::vector<Obstacle> out;
  for (std::size_t i = 0; i < all.size(); ++i) {
    bool touches = false;
    for (std::size_t j = 0; all[i].solid && !touches && j < all.size(); ++j)
      if (j < i || !all[j].solid) touches = near(all[i], all[j]);
    if (!touches) {
      out.push_back(all[i]);
      continue;
    }
    for (auto& rings : grown(all[i].rings, kGrowth))
      out.push_back({all[i].feature, true, true, std::move(rings)});
  }
  all = std::move(out);
}

}  // namespace

void seal(std::vector<Obstacle>& obstacles) {
  joinFences(obstacles);
  crossFenceEnds(obstacles);
  growTouching(obstacles);
}

}  // namespace yw::routes
