#pragma once
#include <boost/graph/adjacency_list.hpp>
#include <map>
#include <memory>
#include <mutex>
#include <vector>

#include "core/routes/obstacles.h"

namespace yw::routes {

/// What stands in the way, as edges and corners ready for exact questions. Grazing an edge and touching a
/// corner is allowed; an inside and a fence may not be crossed.
class Barrier {
 public:
  explicit Barrier(std::vector<Obstacle> obstacles);

  /// A corner a shortest way can bend round.
  struct Corner {
    Spot at;
    Spot before, after;         ///< its neighbours; the same for the end of a fence
    std::vector<Wedge> wedges;  ///< directions that lead into something
    std::int32_t obstacle;
    int side = 0;  ///< of a fence that bends here: +1 on its left, -1 on its right
  };
  const std::vector<Corner>& corners() const { return corners_; }
  const std::vector<Obstacle>& obstacles() const { return obstacles_; }

  /// Wedges at a place that is no corner of its own (a lead's end).
  std::vector<Wedge> wedgesAt(Spot spot) const;
  /// The straight way from p to q is free; the wedges are those at p and at q. A corner strictly between them
  /// makes it not free: the way over that corner is as short.
  bool free(Spot p, const std::vector<Wedge>& atP, Spot q, const std::vector<Wedge>& atQ) const;
  /// The first obstacle that has `spot` strictly inside, or -1.
  std::int32_t holding(Spot spot) const;
  /// Spot to which the shortest way out of everything leads; `spot` itself if it is free.
  Spot wayOut(Spot spot) const;
  /// Both are strictly inside one obstacle and the straight way between them stays in there.
  bool shareInside(Spot p, Spot q) const;

 private:
  struct Edge {
    Spot a, b;
    std::int64_t lowX, highX, lowY, highY;
    std::int32_t obstacle;
    bool solid;
  };
  void addRing(std::int32_t obstacle, const std::vector<Spot>& ring);
  void addChain(std::int32_t obstacle, const std::vector<Spot>& chain, bool closed);
  void addEdge(std::int32_t obstacle, bool solid, Spot a, Spot b);
  void addCorner(std::int32_t obstacle, Spot at, Spot before, Spot after, std::vector<Wedge> wedges,
                 int side = 0);
  void dropHiddenCorners();
  Spot freeSpotNear(base::Vec2 place, bool& found) const;

  std::vector<Obstacle> obstacles_;
  std::vector<Edge> edges_;
  std::vector<Corner> corners_;
  std::multimap<Spot, std::pair<std::int32_t, Wedge>> solidWedges_;
};

/// Shortest ways among the corners of a barrier: the visibility graph with tangent edges only, searched by
/// Dijkstra. Answers about a place are remembered; asking is safe from several threads.
class Visibility {
 public:
  explicit Visibility(std::vector<Obstacle> obstacles);

  struct Way {
    std::vector<base::Vec2> points;
    double length = 0.0;
    bool blocked = false;
  };
  Way shortest(base::Vec2 a, base::Vec2 b) const;
  const Barrier& barrier() const { return barrier_; }

 private:
  using BoostGraph = boost::adjacency_list<boost::vecS, boost::vecS, boost::undirectedS, boost::no_property,
                                           boost::property<boost::edge_weight_t, double>>;
  struct Sight {
    std::int32_t corner;
    double length;
  };
  /// A place, its way out and what it sees; the distances of all corners from it once they were needed.
  struct Standing {
    Spot spot, out;
    base::Vec2 place, outPlace;  ///< the same in metres; place itself where it is free
    double exit = 0.0;           ///< m from the place to its way out
    std::vector<Wedge> wedges;
    std::vector<Sight> sees;
  };
  struct Tree {
    std::vector<double> distance;
    std::vector<std::int32_t> previous;  ///< -1: seen from the place itself
  };
  using StandingPtr = std::shared_ptr<const Standing>;
  using TreePtr = std::shared_ptr<const Tree>;

  StandingPtr standing(base::Vec2 place) const;
  TreePtr tree(const Standing& from) const;
  Way overCorners(const Standing& a, const Standing& b) const;
  /// They stand on different sides of the fence that runs from one to the other.
  static bool acrossFence(const Barrier::Corner& a, const Barrier::Corner& b);
  static bool tangent(const Barrier::Corner& corner, Spot other);

  Barrier barrier_;
  BoostGraph graph_;
  mutable std::mutex mutex_;
  mutable std::map<std::pair<double, double>, StandingPtr> standings_;
  mutable std::map<std::pair<double, double>, TreePtr> trees_;
};

}  // namespace yw::routes
