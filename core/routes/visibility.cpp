#include "core/routes/visibility.h"

#include <algorithm>
#include <boost/graph/dijkstra_shortest_paths.hpp>
#include <cmath>
#include <limits>

namespace yw::routes {

namespace {

constexpr double kNever = std::numeric_limits<double>::infinity();
constexpr double kOnBoundary = 0.016;  // m: a thing within 1 cm of an outline, grown 6 mm at most, is on it
constexpr std::size_t kRemembered = 8192;  // places; a long drag must not fill the memory
constexpr double kSamePlace = 1e-8;        // m along a trench
constexpr std::size_t kMostPairs = 40'000, kNearest = 12;

}  // namespace

bool Visibility::tangent(const Corner& corner, Spot other) {
  return turn(corner.at, other, corner.before) * turn(corner.at, other, corner.after) >= 0;
}

bool Visibility::acrossFence(const Corner& a, const Corner& b) {
  return a.obstacle == b.obstacle && a.side * b.side < 0 &&
         (a.before == b.at || a.after == b.at || b.before == a.at || b.after == a.at);
}

Visibility::Visibility(Terrain terrain)
    : barrier_(std::move(terrain.obstacles)),
      tolls_(std::move(terrain.tolls)),
      share_(terrain.trenchShare),
      nodes_(barrier_.corners()) {
  for (const Trench& trench : terrain.trenches)
    for (std::size_t i = 0; i + 1 < trench.line.size(); ++i)
      pieces_.push_back({trench.line[i], trench.line[i + 1], {}});
  addTollCorners();
  addTrenches();
  for (const Corner& node : nodes_) buried_.push_back(node.obstacle < 0 && barrier_.holding(node.at) >= 0);
  sources_ = nodes_.size();
  nearest_ = pieces_.size() > kNearest && pieces_.size() * sources_ > kMostPairs;
  graph_ = BoostGraph(nodes_.size());
  for (std::size_t i = 0; i < nodes_.size(); ++i)
    for (std::size_t j = i + 1; j < nodes_.size(); ++j) join(i, j);
  addLandings();
  for (const TrenchPiece& piece : pieces_)
    for (std::size_t i = 0; i + 1 < piece.places.size(); ++i) {
      const auto [at, node] = piece.places[i];
      const auto [next, other] = piece.places[i + 1];
      if (node == other) continue;
      boost::add_edge(static_cast<std::size_t>(node), static_cast<std::size_t>(other), share_ * (next - at),
                      graph_);
      inTrench_.insert(std::minmax(node, other));
    }
}

void Visibility::join(std::size_t i, std::size_t j) {
  const Corner &a = nodes_[i], &b = nodes_[j];
  if (a.at == b.at) {
    // Corners of two obstacles at one spot, neither leading into the other: a way may change from one to the
    // other there. The two sides of one fence stay apart.
    const bool changes =
        a.obstacle < 0 || b.obstacle < 0 ? a.side == 0 && b.side == 0 : a.obstacle != b.obstacle;
    if (changes) boost::add_edge(i, j, 0.0, graph_);
    return;
  }
  if (buried_[i] || buried_[j]) return;
  if (!tangent(a, b.at) || !tangent(b, a.at) || acrossFence(a, b)) return;
  const double cost = costBetween(a.at, a.wedges, b.at, b.wedges);
  if (cost >= 0.0) boost::add_edge(i, j, cost, graph_);
}

double Visibility::costBetween(Spot p, const std::vector<Wedge>& atP, Spot q,
                               const std::vector<Wedge>& atQ) const {
  if (!barrier_.free(p, atP, q, atQ)) return -1.0;
  return base::distance(vecOf(p), vecOf(q)) + tollBetween(tolls_, p, q);
}

/// Round what is dear to cross a way bends at its corners.
void Visibility::addTollCorners() {
  for (const Toll& toll : tolls_)
    for (const auto& ring : toll.rings)
      for (std::size_t i = 0; i < ring.size(); ++i) {
        if (barrier_.holding(ring[i]) >= 0) continue;
        nodes_.push_back({ring[i], ring[i == 0 ? ring.size() - 1 : i - 1],
                          ring[i + 1 == ring.size() ? 0 : i + 1], barrier_.wedgesAt(ring[i]), -1, 0});
      }
}

std::int32_t Visibility::addPlace(std::size_t piece, double along, Spot at) {
  auto& places = pieces_[piece].places;
  const auto next = std::find_if(places.begin(), places.end(),
                                 [&](const auto& p) { return p.first >= along - kSamePlace; });
  if (next != places.end() && next->first <= along + kSamePlace) return next->second;
  const auto node = static_cast<std::int32_t>(nodes_.size());
  nodes_.push_back({at, at, at, barrier_.wedgesAt(at), -1, 0});
  places.insert(next, {along, node});
  return node;
}

/// A trench's corners, where it meets another, and where it goes under an outline.
void Visibility::addTrenches() {
  using Edges = std::vector<std::pair<Spot, Spot>>;
  Edges outlines, tolled, fences;
  const auto take = [](Edges& edges, const std::vector<std::vector<Spot>>& rings, bool closed) {
    for (const auto& ring : rings)
      for (std::size_t i = 0; i + (closed ? 0 : 1) < ring.size(); ++i)
        edges.emplace_back(ring[i], ring[i + 1 == ring.size() ? 0 : i + 1]);
  };
  for (const Obstacle& o : barrier_.obstacles()) take(o.solid ? outlines : tolled, o.rings, o.closed);
  fences = tolled;
  for (const Toll& toll : tolls_) take(tolled, toll.rings, true);
  for (std::size_t p = 0; p < pieces_.size(); ++p) {
    const Spot a = pieces_[p].a, b = pieces_[p].b;
    const base::Vec2 from = vecOf(a), along = vecOf(b) - from;
    const double length = base::norm(along);
    // An end at a fence stays on its own side.
    const auto atFence = [&](Spot end) {
      return std::any_of(fences.begin(), fences.end(), [&](const auto& e) {
        return end == e.first || end == e.second || onOpenSegment(e.first, e.second, end);
      });
    };
    const auto inward = [&](double at) { addPlace(p, at, spotOf(from + along * (at / length))); };
    atFence(a) ? inward(kBeside) : static_cast<void>(addPlace(p, 0.0, a));
    atFence(b) ? inward(length - kBeside) : static_cast<void>(addPlace(p, length, b));
    const auto meet = [&](Spot c, Spot d) {
      double at = 0.0;
      if (!meetsAt(a, b, c, d, at)) return;
      bool found = false;
      const Spot spot = barrier_.freeSpotNear(from + along * at, found);
      addPlace(p, at * length, found ? spot : spotOf(from + along * at));
    };
    for (const auto& [c, d] : outlines) meet(c, d);
    // On either side of a fence, and just inside and just outside what is dear to cross: who comes from
    // within need not leave it first.
    for (const auto& [c, d] : tolled) {
      double at = 0.0;
      if (!meetsAt(a, b, c, d, at)) continue;
      for (const double beside : {at * length - kBeside, at * length + kBeside})
        if (beside > 0.0 && beside < length) addPlace(p, beside, spotOf(from + along * (beside / length)));
    }
    for (const TrenchPiece& other : pieces_)
      if (&other != &pieces_[p]) meet(other.a, other.b);
  }
}

std::vector<Visibility::Landing> Visibility::landingsOf(Spot from, const std::vector<Wedge>& wedges) const {
  std::vector<Landing> out;
  if (share_ >= 1.0) return out;
  const double slope = share_ / std::sqrt(1.0 - share_ * share_);
  const base::Vec2 p = vecOf(from);
  std::vector<std::size_t> asked(pieces_.size());
  for (std::size_t i = 0; i < asked.size(); ++i) asked[i] = i;
  if (nearest_) {
    std::vector<double> away;
    for (const TrenchPiece& piece : pieces_) {
      const base::Vec2 a = vecOf(piece.a), d = vecOf(piece.b) - a;
      away.push_back(base::distance(p, a + d * std::clamp(base::dot(p - a, d) / base::dot(d, d), 0.0, 1.0)));
    }
    std::stable_sort(asked.begin(), asked.end(),
                     [&](std::size_t x, std::size_t y) { return away[x] < away[y]; });
    asked.resize(kNearest);
  }
  for (const std::size_t i : asked) {
    const base::Vec2 a = vecOf(pieces_[i].a), d = vecOf(pieces_[i].b) - a;
    const double length = base::norm(d), foot = base::dot(p - a, d) / length,
                 away = std::abs(base::cross(d, p - a)) / length;
    const double shift = away * slope;
    for (const double along : {foot - shift, foot + shift}) {
      if (along <= 0.0 || along >= length) continue;
      const Spot at = spotOf(a + d * (along / length));
      if (barrier_.holding(at) >= 0) continue;
      const double cost = at == from ? 0.0 : costBetween(from, wedges, at, barrier_.wedgesAt(at));
      if (cost >= 0.0) out.push_back({i, along, at, cost});
      if (shift == 0.0) break;
    }
  }
  return out;
}

/// Where the ways from the nodes enter trenches between their corners.
void Visibility::addLandings() {
  for (std::size_t i = 0; i < sources_; ++i) {
    if (buried_[i]) continue;
    for (const Landing& landing : landingsOf(nodes_[i].at, nodes_[i].wedges)) {
      if (!tangent(nodes_[i], landing.at)) continue;
      const auto node = static_cast<std::size_t>(addPlace(landing.piece, landing.along, landing.at));
      if (node != i) boost::add_edge(i, node, landing.cost, graph_);
    }
  }
  while (boost::num_vertices(graph_) < nodes_.size()) boost::add_vertex(graph_);
  buried_.resize(nodes_.size(), false);
}

Visibility::StandingPtr Visibility::standing(base::Vec2 place) const {
  const std::pair key{place.x, place.y};
  {
    const std::lock_guard lock(mutex_);
    if (const auto it = standings_.find(key); it != standings_.end()) return it->second;
  }
  auto made = std::make_shared<Standing>();
  made->spot = spotOf(place);
  made->out = barrier_.wayOut(made->spot);
  made->place = place;
  made->outPlace = made->out == made->spot ? place : vecOf(made->out);
  made->exit = base::distance(made->place, made->outPlace);
  made->wedges = barrier_.wedgesAt(made->out);
  for (std::size_t i = 0; i < sources_; ++i) {
    const Corner& c = nodes_[i];
    const bool same = c.at == made->out;
    if (!same && (!tangent(c, made->out) || !barrier_.free(made->out, made->wedges, c.at, c.wedges)))
      continue;
    const double toll = same || tolls_.empty() ? 0.0 : tollBetween(tolls_, made->out, c.at);
    made->sees.push_back(
        {static_cast<std::int32_t>(i), base::distance(made->outPlace, vecOf(c.at)) + toll, -1});
  }
  made->landings = landingsOf(made->out, made->wedges);
  for (std::size_t i = 0; i < made->landings.size(); ++i) {
    const Landing& landing = made->landings[i];
    const auto& places = pieces_[landing.piece].places;
    const auto next =
        std::find_if(places.begin(), places.end(), [&](const auto& p) { return p.first >= landing.along; });
    const auto see = [&](const std::pair<double, std::int32_t>& p) {
      made->sees.push_back({p.second, landing.cost + share_ * std::abs(p.first - landing.along),
                            static_cast<std::int32_t>(i)});
    };
    if (next != places.end()) see(*next);
    if (next != places.begin()) see(*std::prev(next));
  }
  const std::lock_guard lock(mutex_);
  if (standings_.size() >= kRemembered) standings_.clear();
  return standings_.emplace(key, std::move(made)).first->second;
}

Visibility::TreePtr Visibility::tree(const Standing& from) const {
  const std::pair key{from.place.x, from.place.y};
  {
    const std::lock_guard lock(mutex_);
    if (const auto it = trees_.find(key); it != trees_.end()) return it->second;
  }
  const std::size_t n = nodes_.size();
  auto made = std::make_shared<Tree>();
  made->cost.assign(n, kNever);
  made->previous.assign(n, -1);
  made->landing.assign(n, -1);
  std::vector<std::size_t> starts, previous(n);
  for (std::size_t i = 0; i < n; ++i) previous[i] = i;
  for (const Sight& s : from.sees) {
    const auto node = static_cast<std::size_t>(s.node);
    if (s.cost >= made->cost[node]) continue;
    if (made->cost[node] == kNever) starts.push_back(node);
    made->cost[node] = s.cost;
    made->landing[node] = s.landing;
  }
  std::vector<boost::default_color_type> colors(n, boost::white_color);
  const auto index = boost::get(boost::vertex_index, graph_);
  boost::dijkstra_shortest_paths_no_init(
      graph_, starts.begin(), starts.end(), boost::make_iterator_property_map(previous.begin(), index),
      boost::make_iterator_property_map(made->cost.begin(), index), boost::get(boost::edge_weight, graph_),
      index, std::less<double>(), boost::closed_plus<double>(kNever), 0.0, boost::default_dijkstra_visitor(),
      boost::make_iterator_property_map(colors.begin(), index));
  for (std::size_t i = 0; i < n; ++i)
    if (previous[i] != i) made->previous[i] = static_cast<std::int32_t>(previous[i]);
  const std::lock_guard lock(mutex_);
  if (trees_.size() >= kRemembered / 8) trees_.clear();
  return trees_.emplace(key, std::move(made)).first->second;
}

/// `middle` goes from a's way out to b's, without them; `trench` says which of its legs lie in a trench, the
/// first of them from a's way out.
Visibility::Way Visibility::finished(const Standing& a, const Standing& b,
                                     const std::vector<base::Vec2>& middle, const std::vector<bool>& trench,
                                     double cost) const {
  Way way;
  const auto go = [&](base::Vec2 to, bool in) {
    if (!way.points.empty() && way.points.back() == to) return;
    if (in && way.inTrench.empty()) way.inTrench.assign(way.points.size() - 1, false);
    if (in || !way.inTrench.empty()) way.inTrench.push_back(in);
    way.points.push_back(to);
  };
  way.points.reserve(middle.size() + 4);
  go(a.place, false);
  go(a.outPlace, false);
  for (std::size_t i = 0; i < middle.size(); ++i) go(middle[i], trench[i]);
  go(b.outPlace, trench.size() > middle.size() && trench.back());
  go(b.place, false);
  if (way.points.size() == 1) way.points.push_back(b.place);
  way.cost = cost;
  way.length = cost;
  if (weighted()) {
    way.length = 0.0;
    for (std::size_t i = 0; i + 1 < way.points.size(); ++i)
      way.length += base::distance(way.points[i], way.points[i + 1]);
  }
  return way;
}

Visibility::Way Visibility::straight(const Standing& a, const Standing& b) const {
  const double toll = tolls_.empty() ? 0.0 : tollBetween(tolls_, a.out, b.out);
  return finished(a, b, {}, {}, a.exit + base::distance(a.outPlace, b.outPlace) + b.exit + toll);
}

/// Both come to the same piece of a trench and go along it.
Visibility::Way Visibility::alongPiece(const Standing& a, const Standing& b) const {
  double best = kNever;
  const Landing *in = nullptr, *out = nullptr;
  for (const Landing& x : a.landings)
    for (const Landing& y : b.landings) {
      if (x.piece != y.piece) continue;
      const double cost = x.cost + share_ * std::abs(x.along - y.along) + y.cost;
      if (cost >= best) continue;
      best = cost;
      in = &x;
      out = &y;
    }
  Way way;
  way.blocked = in == nullptr;
  if (way.blocked) return way;
  return finished(a, b, {vecOf(in->at), vecOf(out->at)}, {false, true}, a.exit + best + b.exit);
}

Visibility::Way Visibility::overNodes(const Standing& a, const Standing& b) const {
  const TreePtr ways = tree(a);
  double best = kNever;
  const Sight* last = nullptr;
  for (const Sight& s : b.sees) {
    const double cost = ways->cost[static_cast<std::size_t>(s.node)] + s.cost;
    if (cost < best) {
      best = cost;
      last = &s;
    }
  }
  Way way;
  way.blocked = last == nullptr;
  if (way.blocked) return way;
  // Backwards from b; the leg before each place goes with it.
  std::vector<base::Vec2> middle;
  std::vector<bool> trench;
  middle.reserve(16);
  trench.reserve(17);
  if (last->landing >= 0) {
    middle.push_back(vecOf(b.landings[static_cast<std::size_t>(last->landing)].at));
    trench.push_back(true);
  }
  std::int32_t node = last->node;
  for (;;) {
    const auto c = static_cast<std::size_t>(node);
    const std::int32_t before = ways->previous[c];
    middle.push_back(vecOf(nodes_[c].at));
    if (before < 0) break;
    trench.push_back(inTrench_.contains(std::minmax(before, node)));
    node = before;
  }
  const std::int32_t landing = ways->landing[static_cast<std::size_t>(node)];
  if (landing >= 0) {
    trench.push_back(true);
    middle.push_back(vecOf(a.landings[static_cast<std::size_t>(landing)].at));
  }
  trench.push_back(false);
  std::reverse(middle.begin(), middle.end());
  std::reverse(trench.begin(), trench.end());
  return finished(a, b, middle, trench, a.exit + best + b.exit);
}

Visibility::Way Visibility::shortest(base::Vec2 from, base::Vec2 to) const {
  const StandingPtr a = standing(from), b = standing(to);
  const bool bothDeep = a->exit > kOnBoundary && b->exit > kOnBoundary;
  const auto asDrawn = [&](bool blocked) {
    Way way;
    way.points = {from, to};
    way.length = way.cost = base::distance(from, to);
    way.blocked = blocked;
    return way;
  };
  if (a->spot == b->spot || (bothDeep && barrier_.shareInside(a->spot, b->spot))) return asDrawn(false);
  const bool sees = a->out == b->out || barrier_.free(a->out, a->wedges, b->out, b->wedges);
  if (sees && !weighted()) return straight(*a, *b);
  Way best = overNodes(*a, *b);
  const auto better = [&](Way other) {
    if (!other.blocked && (best.blocked || other.cost < best.cost)) best = std::move(other);
  };
  if (sees) better(straight(*a, *b));
  if (weighted()) better(alongPiece(*a, *b));
  return best.blocked ? asDrawn(true) : best;
}

}  // namespace yw::routes
