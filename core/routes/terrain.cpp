#include "core/routes/terrain.h"

#include <algorithm>

#include "core/routes/routes.h"

namespace yw::routes {

namespace {

using yard::Crossing;
using yard::FeatureKind;

constexpr double kSeam = 0.006;        // m: as outlines that touch are grown
constexpr double kLeastInside = 1e-6;  // of the way: a shorter part only grazes
constexpr double kUsualPrice = 1.0;    // of a metre of lead where the yard has no usual lead

/// Inside, and not just by the rounding of a place on the edge to its spot.
bool deepInside(const std::vector<std::vector<Spot>>& rings, base::Vec2 p) {
  constexpr double kSkin = 1e-8;  // m
  if (sideOf(rings, spotOf(p)) != Side::Inside) return false;
  for (const auto& ring : rings)
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const base::Vec2 a = vecOf(ring[i]), d = vecOf(ring[i + 1 == ring.size() ? 0 : i + 1]) - a;
      const double k = std::clamp(base::dot(p - a, d) / base::dot(d, d), 0.0, 1.0);
      if (base::distance(p, a + d * k) < kSkin) return false;
    }
  return true;
}

bool crossable(const yard::GroundFeature& feature) {
  return (feature.kind == FeatureKind::Walk || feature.kind == FeatureKind::Drive) &&
         !feature.crossingAllowed;
}

}  // namespace

GroundRules groundRulesOf(const yard::Yard& yard) {
  const yard::Settings& s = yard::settings(yard);
  const auto* lead = yard::find<yard::Wire>(yard, s.usualLead);
  const double metre = lead != nullptr ? pricePerMetre(*lead) : kUsualPrice;
  const double digging = static_cast<double>(s.diggingPrice.count) * 1e-4;
  const auto toll = [&](Crossing rule, base::Money cover) {
    return rule == Crossing::AtAPrice ? static_cast<double>(cover.count) * 1e-4 / metre : 0.0;
  };
  GroundRules rules;
  rules.walkNever = s.walkCrossing == Crossing::Never;
  rules.driveNever = s.driveCrossing == Crossing::Never;
  rules.walkToll = toll(s.walkCrossing, s.walkCover);
  rules.driveToll = toll(s.driveCrossing, s.driveCover);
  rules.trenchShare =
      digging > 0.0 ? metre / (metre + digging) : std::clamp(base::fraction(s.trenchShare), 0.01, 1.0);
  return rules;
}

Terrain terrainOf(const yard::Yard& yard) {
  const GroundRules rules = groundRulesOf(yard);
  Terrain out;
  out.trenchShare = rules.trenchShare;
  out.obstacles = obstaclesOf(yard);
  for (const auto& [id, feature] : yard::all<yard::GroundFeature>(yard)) {
    if (feature->kind == FeatureKind::Trench) {
      std::vector<Spot> line = withoutRepeats(feature->outline);
      if (line.size() >= 2) out.trenches.push_back({id, std::move(line)});
      continue;
    }
    if (!crossable(*feature)) continue;
    const double price = feature->kind == FeatureKind::Walk ? rules.walkToll : rules.driveToll;
    const std::vector<Spot> outline = cleanOutline(feature->outline);
    if (price <= 0.0 || outline.empty()) continue;
    for (auto& rings : grown({outline}, kSeam)) out.tolls.push_back({std::move(rings), price});
  }
  return out;
}

bool meetsAt(Spot a, Spot b, Spot c, Spot d, double& share) {
  const int ofC = turn(a, b, c), ofD = turn(a, b, d), ofA = turn(c, d, a), ofB = turn(c, d, b);
  if (ofC * ofD > 0 || ofA * ofB > 0 || (ofC == 0 && ofD == 0)) return false;
  const base::Vec2 along = vecOf(b) - vecOf(a), e = vecOf(d) - vecOf(c);
  share = std::clamp(base::cross(vecOf(c) - vecOf(a), e) / base::cross(along, e), 0.0, 1.0);
  return true;
}

double tollBetween(const std::vector<Toll>& tolls, Spot p, Spot q) {
  double sum = 0.0;
  for (const Toll& toll : tolls) {
    std::vector<double> cuts{0.0, 1.0};
    for (const auto& ring : toll.rings)
      for (std::size_t i = 0; i < ring.size(); ++i) {
        double at = 0.0;
        if (meetsAt(p, q, ring[i], ring[i + 1 == ring.size() ? 0 : i + 1], at)) cuts.push_back(at);
      }
    std::sort(cuts.begin(), cuts.end());
    const base::Vec2 from = vecOf(p), along = vecOf(q) - from;
    for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
      if (cuts[i + 1] - cuts[i] < kLeastInside) continue;
      if (!deepInside(toll.rings, from + along * ((cuts[i] + cuts[i + 1]) / 2.0))) continue;
      const bool begins = i > 0 || sideOf(toll.rings, p) != Side::Inside;
      const bool ends = i + 2 < cuts.size() || sideOf(toll.rings, q) != Side::Inside;
      sum += toll.price * 0.5 * (static_cast<int>(begins) + static_cast<int>(ends));
    }
  }
  return sum;
}

}  // namespace yw::routes
