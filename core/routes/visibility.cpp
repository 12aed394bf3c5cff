#include "core/routes/visibility.h"

#include <algorithm>
#include <boost/graph/dijkstra_shortest_paths.hpp>
#include <limits>

namespace yw::routes {

namespace {

constexpr double kNever = std::numeric_limits<double>::infinity();
constexpr double kOnBoundary = 0.016;  // m: a thing within 1 cm of an outline, grown 6 mm at most, is on it
constexpr std::size_t kRemembered = 8192;  // places; a long drag must not fill the memory

}  // namespace

bool Visibility::tangent(const Barrier::Corner& corner, Spot other) {
  return turn(corner.at, other, corner.before) * turn(corner.at, other, corner.after) >= 0;
}

bool Visibility::acrossFence(const Barrier::Corner& a, const Barrier::Corner& b) {
  return a.obstacle == b.obstacle && a.side * b.side < 0 &&
         (a.before == b.at || a.after == b.at || b.before == a.at || b.after == a.at);
}

Visibility::Visibility(std::vector<Obstacle> obstacles)
    : barrier_(std::move(obstacles)), graph_(barrier_.corners().size()) {
  const auto& corners = barrier_.corners();
  for (std::size_t i = 0; i < corners.size(); ++i)
    for (std::size_t j = i + 1; j < corners.size(); ++j) {
      const auto &a = corners[i], &b = corners[j];
      if (a.at == b.at) {
        // Corners of two obstacles at one spot, neither leading into the other: a way may change from one to
        // the other there. The two sides of one fence stay apart.
        if (a.obstacle != b.obstacle) boost::add_edge(i, j, 0.0, graph_);
        continue;
      }
      if (!tangent(a, b.at) || !tangent(b, a.at) || acrossFence(a, b)) continue;
      if (!barrier_.free(a.at, a.wedges, b.at, b.wedges)) continue;
      boost::add_edge(i, j, base::distance(vecOf(a.at), vecOf(b.at)), graph_);
    }
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
  const auto& corners = barrier_.corners();
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const auto& c = corners[i];
    const bool same = c.at == made->out;
    if (!same && (!tangent(c, made->out) || !barrier_.free(made->out, made->wedges, c.at, c.wedges)))
      continue;
    made->sees.push_back({static_cast<std::int32_t>(i), base::distance(made->outPlace, vecOf(c.at))});
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
  const std::size_t n = barrier_.corners().size();
  auto made = std::make_shared<Tree>();
  made->distance.assign(n, kNever);
  made->previous.assign(n, -1);
  std::vector<std::size_t> starts, previous(n);
  for (std::size_t i = 0; i < n; ++i) previous[i] = i;
  for (const Sight& s : from.sees) {
    made->distance[static_cast<std::size_t>(s.corner)] = s.length;
    starts.push_back(static_cast<std::size_t>(s.corner));
  }
  std::vector<boost::default_color_type> colors(n, boost::white_color);
  const auto index = boost::get(boost::vertex_index, graph_);
  boost::dijkstra_shortest_paths_no_init(
      graph_, starts.begin(), starts.end(), boost::make_iterator_property_map(previous.begin(), index),
      boost::make_iterator_property_map(made->distance.begin(), index),
      boost::get(boost::edge_weight, graph_), index, std::less<double>(), boost::closed_plus<double>(kNever),
      0.0, boost::default_dijkstra_visitor(), boost::make_iterator_property_map(colors.begin(), index));
  for (std::size_t i = 0; i < n; ++i)
    if (previous[i] != i) made->previous[i] = static_cast<std::int32_t>(previous[i]);
  const std::lock_guard lock(mutex_);
  if (trees_.size() >= kRemembered / 8) trees_.clear();
  return trees_.emplace(key, std::move(made)).first->second;
}

Visibility::Way Visibility::overCorners(const Standing& a, const Standing& b) const {
  const TreePtr ways = tree(a);
  double best = kNever;
  std::int32_t last = -1;
  for (const Sight& s : b.sees) {
    const double length = ways->distance[static_cast<std::size_t>(s.corner)] + s.length;
    if (length < best) {
      best = length;
      last = s.corner;
    }
  }
  Way way;
  if (last < 0) {
    way.points = {a.place, b.place};
    way.length = base::distance(a.place, b.place);
    way.blocked = true;
    return way;
  }
  way.length = a.exit + best + b.exit;
  way.points.push_back(b.place);
  way.points.push_back(b.outPlace);
  for (std::int32_t c = last; c >= 0; c = ways->previous[static_cast<std::size_t>(c)])
    way.points.push_back(vecOf(barrier_.corners()[static_cast<std::size_t>(c)].at));
  way.points.push_back(a.outPlace);
  way.points.push_back(a.place);
  std::reverse(way.points.begin(), way.points.end());
  return way;
}

Visibility::Way Visibility::shortest(base::Vec2 from, base::Vec2 to) const {
  const StandingPtr a = standing(from), b = standing(to);
  Way way;
  const bool bothDeep = a->exit > kOnBoundary && b->exit > kOnBoundary;
  if (a->spot == b->spot || (bothDeep && barrier_.shareInside(a->spot, b->spot))) {
    way.points = {from, to};
    way.length = base::distance(from, to);
    return way;
  }
  if (a->out == b->out || barrier_.free(a->out, a->wedges, b->out, b->wedges)) {
    way.points = {a->place, a->outPlace, b->outPlace, b->place};
    way.length = a->exit + base::distance(a->outPlace, b->outPlace) + b->exit;
  } else {
    way = overCorners(*a, *b);
  }
  way.points.erase(std::unique(way.points.begin(), way.points.end()), way.points.end());
  return way;
}

}  // namespace yw::routes
