#include "core/routes/shared_trench.h"

#include <algorithm>
#include <limits>
#include <map>
#include <set>

#include "core/routes/lattice.h"

namespace yw::routes {

namespace {

constexpr std::size_t kMostCorners = 240, kMostEnds = 160;  // of one tree: the work grows with their square
constexpr double kNever = std::numeric_limits<double>::infinity();

/// All ends and corners with the metres to dig between each two of them.
class Net {
 public:
  Net(const Ground& ground, const std::vector<Vec2>& ends) : ground_(ground), ends_(ends.size()), at_(ends) {
    std::vector<Vec2> corners = ground.corners();
    if (corners.size() > kMostCorners) {  // those nearest to the ends
      const auto away = [&](Vec2 corner) {
        double least = kNever;
        for (const Vec2 end : ends) least = std::min(least, base::distance(corner, end));
        return least;
      };
      std::stable_sort(corners.begin(), corners.end(), [&](Vec2 a, Vec2 b) { return away(a) < away(b); });
      corners.resize(kMostCorners);
      whole_ = false;
    }
    at_.insert(at_.end(), corners.begin(), corners.end());
    between_.assign(at_.size(), std::vector<double>(at_.size(), 0.0));
    for (std::size_t i = 0; i < at_.size(); ++i)
      for (std::size_t j = i + 1; j < at_.size(); ++j) {
        const Ground::Way way = ground.shortest(at_[i], at_[j]);
        between_[i][j] = between_[j][i] = way.blocked ? kNever : toDig(way);
        dug_ = dug_ || std::find(way.inTrench.begin(), way.inTrench.end(), true) != way.inTrench.end();
      }
  }
  /// Some way lies in a trench that is there: the cheapest ways need not be those with the least to dig.
  bool dug() const { return dug_; }
  /// All corners are in it.
  bool whole() const { return whole_; }
  std::size_t ends() const { return ends_; }
  std::size_t size() const { return at_.size(); }
  double between(std::size_t i, std::size_t j) const { return between_[i][j]; }
  Ground::Way way(std::size_t i, std::size_t j) const { return ground_.shortest(at_[i], at_[j]); }

  static double toDig(const Ground::Way& way) {
    double sum = 0.0;
    for (std::size_t i = 0; i + 1 < way.points.size(); ++i)
      if (!way.inTrench[i]) sum += base::distance(way.points[i], way.points[i + 1]);
    return sum;
  }

 private:
  const Ground& ground_;
  std::size_t ends_;
  bool whole_ = true, dug_ = false;
  std::vector<Vec2> at_;
  std::vector<std::vector<double>> between_;
};

using Links = std::vector<std::pair<std::size_t, std::size_t>>;

struct Tree {
  Links links;
  double length = kNever;
};

/// Shortest tree over these nodes (Prim).
Tree spanning(const Net& net, const std::vector<std::size_t>& nodes) {
  Tree tree;
  tree.length = 0.0;
  std::vector<double> least(nodes.size(), kNever);
  std::vector<std::size_t> from(nodes.size(), 0);
  std::vector<bool> in(nodes.size(), false);
  for (std::size_t step = 0, last = 0; step < nodes.size(); ++step) {
    in[last] = true;
    if (step > 0) {
      tree.links.emplace_back(nodes[from[last]], nodes[last]);
      tree.length += least[last];
    }
    std::size_t next = last;
    for (std::size_t i = 0; i < nodes.size(); ++i) {
      if (in[i]) continue;
      const double length = net.between(nodes[last], nodes[i]);
      if (length < least[i]) {
        least[i] = length;
        from[i] = last;
      }
      if (next == last || least[i] < least[next]) next = i;
    }
    last = next;
  }
  return tree;
}

/// Dreyfus and Wagner over subsets of all ends but the last.
class Exact {
 public:
  explicit Exact(const Net& net)
      : net_(net), sets_(std::size_t{1} << (net.ends() - 1)), cost_(sets_), how_(sets_) {}

  Tree find() {
    const std::size_t n = net_.size(), ends = net_.ends() - 1;
    for (std::size_t set = 1; set < sets_; ++set) {
      cost_[set].assign(n, kNever);
      how_[set].assign(n, {});
      const bool one = (set & (set - 1)) == 0;
      std::vector<double> joined(n, kNever);
      std::vector<std::size_t> part(n, 0);
      if (one) {
        for (std::size_t e = 0; e < ends; ++e)
          if (set == std::size_t{1} << e) joined[e] = 0.0;
      } else {
        for (std::size_t sub = (set - 1) & set; sub != 0; sub = (sub - 1) & set)
          if (sub >= (set ^ sub)) halve(set, sub, joined, part);
      }
      for (std::size_t v = 0; v < n; ++v)
        for (std::size_t u = 0; u < n; ++u) {
          const double cost = joined[u] + net_.between(u, v);
          if (cost >= cost_[set][v]) continue;
          cost_[set][v] = cost;
          how_[set][v] = {u, part[u]};
        }
    }
    Tree tree;
    tree.length = cost_[sets_ - 1][ends];
    if (tree.length < kNever) collect(sets_ - 1, ends, tree.links);
    return tree;
  }

 private:
  struct How {
    std::size_t joint = 0, part = 0;  ///< where the way to it begins; the subset that meets the rest there
  };
  void halve(std::size_t set, std::size_t sub, std::vector<double>& joined, std::vector<std::size_t>& part) {
    const std::size_t rest = set ^ sub;
    for (std::size_t u = 0; u < joined.size(); ++u) {
      const double cost = cost_[sub][u] + cost_[rest][u];
      if (cost >= joined[u]) continue;
      joined[u] = cost;
      part[u] = sub;
    }
  }
  void collect(std::size_t set, std::size_t node, Links& links) const {
    const How how = how_[set][node];
    if (how.joint != node) links.emplace_back(how.joint, node);
    if (how.part == 0) return;
    collect(how.part, how.joint, links);
    collect(set ^ how.part, how.joint, links);
  }

  const Net& net_;
  std::size_t sets_;
  std::vector<std::vector<double>> cost_;
  std::vector<std::vector<How>> how_;
};

Tree grownTree(const Net& net) {
  std::vector<std::size_t> nodes(net.ends());
  for (std::size_t i = 0; i < nodes.size(); ++i) nodes[i] = i;
  Tree best = spanning(net, nodes);
  std::set<std::size_t> out;
  for (std::size_t v = net.ends(); v < net.size(); ++v) out.insert(v);
  for (bool more = true; more;) {
    more = false;
    std::size_t found = 0;
    for (const std::size_t v : out) {
      nodes.push_back(v);
      Tree with = spanning(net, nodes);
      nodes.pop_back();
      if (with.length >= best.length * (1 - 1e-12)) continue;
      best = std::move(with);
      found = v;
      more = true;
    }
    if (more) {
      nodes.push_back(found);
      out.erase(found);
    }
  }
  return best;
}

/// No tree over all ends is shorter (Wong's dual ascent): what every tree must cross into a set of nodes that
/// holds an end but not the first is taken off the ways into it, and counted.
double ascended(const Net& net) {
  const std::size_t n = net.size();
  std::vector<std::vector<double>> left(n, std::vector<double>(n, kNever));  // of the way from i to j
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = 0; j < n; ++j) left[i][j] = net.between(i, j);
  /// Nodes from which the end is reached for nothing more.
  const auto reaching = [&](std::size_t end) {
    std::vector<bool> in(n, false);
    std::vector<std::size_t> open{end};
    in[end] = true;
    while (!open.empty()) {
      const std::size_t to = open.back();
      open.pop_back();
      for (std::size_t from = 0; from < n; ++from)
        if (!in[from] && left[from][to] <= 0.0) {
          in[from] = true;
          open.push_back(from);
        }
    }
    return in;
  };
  double bound = 0.0;
  std::vector<std::size_t> waiting;
  for (std::size_t end = 1; end < net.ends(); ++end) waiting.push_back(end);
  while (!waiting.empty()) {
    // The end with the smallest set goes first.
    std::vector<bool> set;
    std::size_t least = n + 1;
    std::vector<std::size_t> still;
    for (const std::size_t end : waiting) {
      std::vector<bool> in = reaching(end);
      if (in[0]) continue;
      still.push_back(end);
      const auto size = static_cast<std::size_t>(std::count(in.begin(), in.end(), true));
      if (size >= least) continue;
      least = size;
      set = std::move(in);
    }
    waiting = std::move(still);
    if (waiting.empty()) break;
    double step = kNever;
    for (std::size_t i = 0; i < n; ++i)
      for (std::size_t j = 0; j < n; ++j)
        if (!set[i] && set[j]) step = std::min(step, left[i][j]);
    if (step == kNever) return kNever;
    bound += step;
    for (std::size_t i = 0; i < n; ++i)
      for (std::size_t j = 0; j < n; ++j)
        if (!set[i] && set[j]) left[i][j] -= step;
  }
  return bound;
}

/// Lines of the tree's ways, joined where only two meet; what lies in a trench already is left out.
std::vector<std::vector<Vec2>> linesOf(const Net& net, const Links& links) {
  std::set<std::pair<Spot, Spot>> pieces;
  for (const auto& [i, j] : links) {
    const Ground::Way way = net.way(i, j);
    for (std::size_t k = 0; k + 1 < way.points.size(); ++k) {
      if (way.inTrench[k]) continue;
      const Spot a = spotOf(way.points[k]), b = spotOf(way.points[k + 1]);
      if (a != b) pieces.insert(std::minmax(a, b));
    }
  }
  std::map<Spot, std::vector<Spot>> next;
  for (const auto& [a, b] : pieces) {
    next[a].push_back(b);
    next[b].push_back(a);
  }
  std::vector<std::vector<Vec2>> lines;
  const auto follow = [&](Spot from, Spot to) {
    std::vector<Vec2> line{vecOf(from)};
    while (pieces.erase(std::minmax(from, to)) > 0) {
      line.push_back(vecOf(to));
      const auto& more = next[to];
      if (more.size() != 2) break;
      const Spot on = more[0] == from ? more[1] : more[0];
      from = to;
      to = on;
    }
    lines.push_back(std::move(line));
  };
  for (const auto& [spot, others] : next)
    if (others.size() != 2)
      for (const Spot other : others)
        if (pieces.contains(std::minmax(spot, other))) follow(spot, other);
  while (!pieces.empty()) follow(pieces.begin()->first, pieces.begin()->second);  // rings
  return lines;
}

}  // namespace

SharedTrench sharedTrench(const Ground& ground, const std::vector<Vec2>& ends, std::size_t exactEnds) {
  SharedTrench out;
  std::vector<Vec2> apart;
  for (const Vec2 end : ends)
    if (std::find(apart.begin(), apart.end(), end) == apart.end()) apart.push_back(end);
  if (apart.size() < 2) {
    out.exact = true;
    return out;
  }
  const Net net(ground, apart);
  const bool exact = apart.size() <= exactEnds;
  std::vector<std::size_t> bare(net.ends());
  for (std::size_t i = 0; i < bare.size(); ++i) bare[i] = i;
  const bool few = net.ends() <= kMostEnds;
  const Tree tree = exact ? Exact(net).find() : few ? grownTree(net) : spanning(net, bare);
  out.blocked = tree.length == kNever;
  if (out.blocked) return out;
  out.lines = linesOf(net, tree.links);
  out.length = tree.length;
  out.exact = exact && net.whole() && !net.dug();
  if (out.exact) {
    out.bound = tree.length;
    return out;
  }
  if (net.dug()) return out;
  if (net.whole() && few) {
    out.bound = std::min(out.length, ascended(net));
    return out;
  }
  // Branches at corners that were left out may save: at most so much of a tree over the ends alone (Takahashi
  // and Matsuyama, Mathematica Japonica 24, 1980).
  out.bound = spanning(net, bare).length / (2.0 * (1.0 - 1.0 / static_cast<double>(bare.size())));
  return out;
}

double diggingBound(const Ground& ground, const std::vector<std::vector<Vec2>>& nets) {
  double most = 0.0;
  std::vector<Vec2> all;
  for (const auto& ends : nets) {
    const SharedTrench one = sharedTrench(ground, ends);
    if (one.blocked) return 0.0;
    most = std::max(most, one.bound);
    all.insert(all.end(), ends.begin(), ends.end());
  }
  if (nets.size() < 2 || all.size() > kMostEnds) return most;
  // With links between the nets, whatever is dug is one tree over all ends.
  const auto apart = [&](const std::vector<Vec2>& x, const std::vector<Vec2>& y) {
    double least = kNever;
    for (const Vec2 a : x)
      for (const Vec2 b : y) least = std::min(least, Net::toDig(ground.shortest(a, b)));
    return least;
  };
  double links = 0.0;
  std::vector<double> least(nets.size(), kNever);
  std::vector<bool> in(nets.size(), false);
  for (std::size_t step = 0, last = 0; step < nets.size(); ++step) {
    in[last] = true;
    if (step > 0) links += least[last];
    std::size_t next = last;
    for (std::size_t i = 0; i < nets.size(); ++i) {
      if (in[i]) continue;
      least[i] = std::min(least[i], apart(nets[last], nets[i]));
      if (next == last || least[i] < least[next]) next = i;
    }
    last = next;
  }
  const SharedTrench whole = sharedTrench(ground, all);
  return whole.blocked ? most : std::max(most, whole.bound - links);
}

}  // namespace yw::routes
