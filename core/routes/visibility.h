#pragma once
#include <boost/graph/adjacency_list.hpp>
#include <map>
#include <memory>
#include <mutex>
#include <set>
#include <vector>

#include "core/routes/terrain.h"

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
  /// A spot within 3 nm of the place that is in nothing; `found` says whether there is one.
  Spot freeSpotNear(base::Vec2 place, bool& found) const;
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

  std::vector<Obstacle> obstacles_;
  std::vector<Edge> edges_;
  std::vector<Corner> corners_;
  std::multimap<Spot, std::pair<std::int32_t, Wedge>> solidWedges_;
};

/// Cheapest ways over a terrain: among the corners of what stands in the way, those of what is dear to cross,
/// and the places where a way enters or leaves a trench. Exact: between two such places a way is straight.
/// It enters a trench where it bends as light does, cos(angle) = share, or at a corner of the trench, or
/// where the trench meets an outline. Beyond 40,000 pairs of places and
/// pieces of trench a place comes to its dozen nearest pieces only. Edges are tangent; searched by Dijkstra.
/// Answers about a place are remembered; asking is safe from several threads.
class Visibility {
 public:
  explicit Visibility(Terrain terrain);

  struct Way {
    std::vector<base::Vec2> points;
    std::vector<bool> inTrench;  ///< of the leg from each point to the next; empty: none is
    double length = 0.0;         ///< m, as long as it is
    double cost = 0.0;           ///< m, with its crossings and what a trench saves
    bool blocked = false;
  };
  Way shortest(base::Vec2 a, base::Vec2 b) const;
  const Barrier& barrier() const { return barrier_; }
  /// Some ways count for other than their length.
  bool weighted() const { return !tolls_.empty() || !pieces_.empty(); }

 private:
  using Corner = Barrier::Corner;
  using BoostGraph = boost::adjacency_list<boost::vecS, boost::vecS, boost::undirectedS, boost::no_property,
                                           boost::property<boost::edge_weight_t, double>>;
  /// One straight piece of a trench with the places on it, in order.
  struct TrenchPiece {
    Spot a, b;
    std::vector<std::pair<double, std::int32_t>> places;  ///< m from a, node
  };
  /// A place of a trench that a way may come to across open ground.
  struct Landing {
    std::size_t piece;
    double along;  ///< m from the piece's a
    Spot at;
    double cost;  ///< m to there
  };
  struct Sight {
    std::int32_t node;
    double cost;
    std::int32_t landing = -1;  ///< over that of the standing's landings
  };
  /// A place, its way out and what it sees; the costs of all nodes from it once they were needed.
  struct Standing {
    Spot spot, out;
    base::Vec2 place, outPlace;  ///< the same in metres; place itself where it is free
    double exit = 0.0;           ///< m from the place to its way out
    std::vector<Wedge> wedges;
    std::vector<Sight> sees;
    std::vector<Landing> landings;
  };
  struct Tree {
    std::vector<double> cost;
    std::vector<std::int32_t> previous;  ///< -1: reached from the place itself
    std::vector<std::int32_t> landing;   ///< and then over that of its landings; -1: straight
  };
  using StandingPtr = std::shared_ptr<const Standing>;
  using TreePtr = std::shared_ptr<const Tree>;

  void addTollCorners();
  void addTrenches();
  void addLandings();
  void join(std::size_t i, std::size_t j);
  /// Free, and for how much; negative: not free.
  double costBetween(Spot p, const std::vector<Wedge>& atP, Spot q, const std::vector<Wedge>& atQ) const;
  std::vector<Landing> landingsOf(Spot from, const std::vector<Wedge>& wedges) const;
  std::int32_t addPlace(std::size_t piece, double along, Spot at);
  StandingPtr standing(base::Vec2 place) const;
  TreePtr tree(const Standing& from) const;
  Way straight(const Standing& a, const Standing& b) const;
  Way overNodes(const Standing& a, const Standing& b) const;
  Way alongPiece(const Standing& a, const Standing& b) const;
  Way finished(const Standing& a, const Standing& b, const std::vector<base::Vec2>& middle,
               const std::vector<bool>& trench, double cost) const;
  /// They stand on different sides of the fence that runs from one to the other.
  static bool acrossFence(const Corner& a, const Corner& b);
  static bool tangent(const Corner& corner, Spot other);

  Barrier barrier_;
  std::vector<Toll> tolls_;
  std::vector<TrenchPiece> pieces_;
  double share_ = 1.0;
  std::size_t sources_ = 0;   ///< nodes that ways bend at; the others are where they enter a trench
  bool nearest_ = false;      ///< too many: a place comes to its nearest pieces only
  std::vector<bool> buried_;  ///< the node lies in something: only trenches lead there
  std::vector<Corner>
      nodes_;  ///< of the graph: the barrier's corners first; a place in a trench has obstacle -1
  std::set<std::pair<std::int32_t, std::int32_t>> inTrench_;  ///< edges, lower node first
  BoostGraph graph_;
  mutable std::mutex mutex_;
  mutable std::map<std::pair<double, double>, StandingPtr> standings_;
  mutable std::map<std::pair<double, double>, TreePtr> trees_;
};

}  // namespace yw::routes
