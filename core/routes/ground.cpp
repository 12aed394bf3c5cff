#include <algorithm>
#include <optional>

#include "core/routes/routes.h"
#include "core/routes/visibility.h"

namespace yw::routes {

namespace {

constexpr double kLeastInside = 0.001;  // m: shorter than this a way only grazes a walk

/// Length of the part of a-b that lies strictly inside the rings, m.
double lengthInside(const std::vector<std::vector<Spot>>& rings, Vec2 a, Vec2 b) {
  std::vector<double> cuts{0.0, 1.0};
  const Vec2 d = b - a;
  for (const auto& ring : rings)
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 u = vecOf(ring[i]), w = vecOf(ring[i + 1 == ring.size() ? 0 : i + 1]);
      const Vec2 e = w - u;
      const double det = base::cross(d, e);
      if (det == 0.0) continue;
      const double along = base::cross(u - a, e) / det;
      if (along > 0.0 && along < 1.0) cuts.push_back(along);
    }
  std::sort(cuts.begin(), cuts.end());
  double inside = 0.0;
  for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
    const Vec2 middle = a + d * ((cuts[i] + cuts[i + 1]) / 2.0);
    if (sideOf(rings, spotOf(middle)) == Side::Inside) inside += (cuts[i + 1] - cuts[i]) * base::norm(d);
  }
  return inside;
}

}  // namespace

struct Ground::Graph {
  explicit Graph(const yard::Yard& yard)
      : rules(groundRulesOf(yard)),
        visibility(terrainOf(yard)),
        crossings(crossingsOf(yard)),
        keepOuts(keepOutsOf(yard)) {
    if (!visibility.weighted()) return;
    Terrain plain = terrainOf(yard);
    plain.tolls.clear();
    plain.trenchShare = 1.0;
    bare.emplace(std::move(plain));
  }
  GroundRules rules;
  Visibility visibility;
  std::optional<Visibility> bare;  ///< where something is dear or dug: with every metre the same
  std::vector<Region> crossings, keepOuts;
};

Ground::Ground(const yard::Yard& yard) : graph_(std::make_shared<Graph>(yard)) {
  for (const auto& [id, record] : yard.records)
    if (std::holds_alternative<yard::GroundFeature>(*record)) madeFrom_.push_back(record);
}

Ground::Way Ground::shortest(Vec2 a, Vec2 b, const std::vector<Vec2>& via, double most) const {
  Way way = over(graph_->visibility, a, b, via);
  if (way.length <= most || !graph_->bare) return way;
  Way bare = over(*graph_->bare, a, b, via);
  return bare.blocked || bare.length >= way.length ? way : bare;
}

Ground::Way Ground::over(const Visibility& visibility, Vec2 a, Vec2 b, const std::vector<Vec2>& via) {
  Way whole;
  whole.points.reserve(8);
  whole.points.push_back(a);
  Vec2 from = a;
  for (std::size_t leg = 0; leg <= via.size(); ++leg) {
    const Vec2 to = leg == via.size() ? b : via[leg];
    const Visibility::Way way = visibility.shortest(from, to);
    whole.points.insert(whole.points.end(), way.points.begin() + 1, way.points.end());
    if (way.inTrench.empty())
      whole.inTrench.resize(whole.points.size() - 1, false);
    else
      whole.inTrench.insert(whole.inTrench.end(), way.inTrench.begin(), way.inTrench.end());
    whole.length += way.length;
    whole.cost += way.cost;
    whole.blocked = whole.blocked || way.blocked;
    from = to;
  }
  if (whole.points.size() == 1) whole.points.push_back(b);
  whole.inTrench.resize(whole.points.size() - 1, false);
  return whole;
}

std::vector<Vec2> Ground::corners() const {
  std::vector<Spot> spots;
  for (const Barrier::Corner& corner : graph_->visibility.barrier().corners()) {
    spots.push_back(corner.at);
    if (corner.side == 0) continue;
    // The bend of a fence: a hair on its own side.
    const Vec2 along = vecOf(corner.after) - vecOf(corner.before);
    const double length = base::norm(along);
    if (length > 0.0)
      spots.back() = spotOf(vecOf(corner.at) + Vec2{-along.y, along.x} * (corner.side * kBeside / length));
  }
  std::sort(spots.begin(), spots.end());
  spots.erase(std::unique(spots.begin(), spots.end()), spots.end());
  std::vector<Vec2> out;
  for (const Spot spot : spots) out.push_back(vecOf(spot));
  return out;
}

bool Ground::isOf(const yard::Yard& yard) const {
  auto it = madeFrom_.begin();
  for (const auto& [id, record] : yard.records) {
    if (!std::holds_alternative<yard::GroundFeature>(*record)) continue;
    if (it == madeFrom_.end() || *it != record) return false;
    ++it;
  }
  return it == madeFrom_.end() && groundRulesOf(yard) == graph_->rules;
}

std::vector<Id> Ground::crossed(const std::vector<Vec2>& points, const std::vector<bool>& inTrench) const {
  std::vector<Id> out;
  for (const Region& region : graph_->crossings) {
    double inside = 0.0;
    for (std::size_t i = 0; i + 1 < points.size(); ++i)
      if (i >= inTrench.size() || !inTrench[i])
        inside += lengthInside(region.rings, points[i], points[i + 1]);
    if (inside > kLeastInside) out.push_back(region.feature);
  }
  return out;
}

std::vector<Id> Ground::keepOutsAt(Vec2 place) const {
  std::vector<Id> out;
  for (const Region& region : graph_->keepOuts)
    if (sideOf(region.rings, spotOf(place)) == Side::Inside && (out.empty() || out.back() != region.feature))
      out.push_back(region.feature);
  return out;
}

}  // namespace yw::routes
