#include "core/routes/obstacles.h"

#include <algorithm>

#include "core/routes/terrain.h"

namespace yw::routes {

namespace {

using yard::FeatureKind;
using yard::GroundFeature;

void addSolid(std::vector<Obstacle>& out, base::Id id, const GroundFeature& feature) {
  std::vector<Spot> outline = cleanOutline(feature.outline);
  if (outline.empty()) return;
  const bool grow = feature.kind == FeatureKind::KeepOut && feature.tolerance.count > 0;
  if (!grow) {
    out.push_back({id, true, true, {std::move(outline)}});
    return;
  }
  for (auto& rings : grown({outline}, base::metres(feature.tolerance).si))
    out.push_back({id, true, true, std::move(rings)});
}

void addFence(std::vector<Obstacle>& out, base::Id id, const GroundFeature& feature) {
  std::vector<Spot> chain = withoutRepeats(feature.outline);
  if (chain.size() < 2) return;
  const bool closed = chain.size() > 3 && chain.front() == chain.back();
  if (closed) chain.pop_back();
  out.push_back({id, false, closed, {std::move(chain)}});
}

void addRegion(std::vector<Region>& out, base::Id id, const GroundFeature& feature) {
  std::vector<Spot> outline = cleanOutline(feature.outline);
  if (outline.empty()) return;
  if (feature.kind == FeatureKind::KeepOut && feature.tolerance.count > 0) {
    for (auto& rings : grown({outline}, base::metres(feature.tolerance).si))
      out.push_back({id, std::move(rings)});
    return;
  }
  out.push_back({id, {std::move(outline)}});
}

}  // namespace

std::vector<Spot> withoutRepeats(const std::vector<base::Point>& points) {
  std::vector<Spot> spots;
  for (const base::Point& p : points) {
    const Spot s = spotOf(base::vec(p));
    if (spots.empty() || spots.back() != s) spots.push_back(s);
  }
  return spots;
}

double toleranceOf(const GroundFeature& line) {
  constexpr double kHand = 0.1;  // metres
  return line.tolerance.count > 0 ? base::metres(line.tolerance).si : kHand;
}

Side sideOf(const std::vector<std::vector<Spot>>& rings, Spot spot) {
  int winding = 0;
  for (const auto& ring : rings)
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Spot a = ring[i], b = ring[i + 1 == ring.size() ? 0 : i + 1];
      if (spot == a || onOpenSegment(a, b, spot)) return Side::Boundary;
      if (a.y <= spot.y) {
        if (b.y > spot.y && turn(a, b, spot) > 0) ++winding;
      } else if (b.y <= spot.y && turn(a, b, spot) < 0) {
        --winding;
      }
    }
  return winding != 0 ? Side::Inside : Side::Outside;
}

std::vector<Spot> cleanOutline(const std::vector<base::Point>& outline) {
  std::vector<Spot> ring = withoutRepeats(outline);
  while (ring.size() > 1 && ring.front() == ring.back()) ring.pop_back();
  if (ring.size() < 3) return {};
  const int winding = windingOf(ring);
  if (winding == 0) return {};
  if (winding < 0) std::reverse(ring.begin(), ring.end());
  return ring;
}

bool blocks(const GroundFeature& feature) {
  switch (feature.kind) {
    case FeatureKind::House:
    case FeatureKind::Tree:
    case FeatureKind::Water:
    case FeatureKind::KeepOut:
    case FeatureKind::Fence:
      return feature.blocksLeads;
    default:
      return false;
  }
}

std::vector<Obstacle> obstaclesOf(const yard::Yard& yard) {
  const GroundRules rules = groundRulesOf(yard);
  const auto neverCrossed = [&](const GroundFeature& f) {
    return !f.crossingAllowed && ((f.kind == FeatureKind::Walk && rules.walkNever) ||
                                  (f.kind == FeatureKind::Drive && rules.driveNever));
  };
  std::vector<Obstacle> out;
  for (const auto& [id, feature] : yard::all<GroundFeature>(yard)) {
    if (!blocks(*feature) && !neverCrossed(*feature)) continue;
    if (feature->kind == FeatureKind::Fence)
      addFence(out, id, *feature);
    else
      addSolid(out, id, *feature);
  }
  seal(out);
  return out;
}

std::vector<Region> crossingsOf(const yard::Yard& yard) {
  std::vector<Region> out;
  for (const auto& [id, feature] : yard::all<GroundFeature>(yard))
    if ((feature->kind == FeatureKind::Walk || feature->kind == FeatureKind::Drive) &&
        !feature->crossingAllowed)
      addRegion(out, id, *feature);
  return out;
}

std::vector<Region> keepOutsOf(const yard::Yard& yard) {
  std::vector<Region> out;
  for (const auto& [id, feature] : yard::all<GroundFeature>(yard))
    if (feature->kind == FeatureKind::KeepOut || feature->kind == FeatureKind::PublicStrip)
      addRegion(out, id, *feature);
    else if (feature->kind == FeatureKind::BuriedLine)
      for (auto& rings : stripAlong(withoutRepeats(feature->outline), toleranceOf(*feature)))
        out.push_back({id, std::move(rings)});
  return out;
}

}  // namespace yw::routes
