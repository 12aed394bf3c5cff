#pragma once
#include <cstdint>
#include <limits>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "core/base/point.h"
#include "core/shapes/shape.h"
#include "core/yard/yard.h"

namespace yw::routes {

using base::Id;
using base::Length;
using base::Vec2;
using base::Vec3;

using ShapePtr = std::shared_ptr<const shapes::Shape>;
/// Shapes of the props that could be made; a prop whose sizes are refused is missing.
using Shapes = std::map<Id, ShapePtr>;

/// How a piece of a cable lies: in the air or on a wall or prop, along the ground, in a trench or duct.
enum class Lay : std::uint8_t { Above, Ground, Trench };

enum class CableRole { Lead, Jumper, Feed, Trunk, Tie, MainsCord, ReceiverLink };

/// Names a cable whether or not it has a record: for a lead or jumper the run and the item it goes to, for a
/// feed its record, for a mains cord its supply (to a box: its record), for a receiver link the receiver.
struct CableKey {
  CableRole role = CableRole::Lead;
  Id of;                  ///< run, cable record, supply or receiver
  std::int64_t item = 0;  ///< index into Run::items for Lead and Jumper
  auto operator<=>(const CableKey&) const = default;
};

/// One cable of the yard with its way.
struct RoutedCable {
  CableKey key;
  std::string label;  ///< K2-P05-A
  Id record;          ///< the Cable record if there is one
  yard::Terminal from, to;
  std::string fromText, toText;  ///< `K2 port 5`, `Ring 3 IN (6 o'clock)`
  Id wire;                       ///< resolved; none when the yard has no such wire (a finding)
  yard::ConductorSet conductors = yard::ConductorSet::PowerAndData;
  std::vector<Vec3> path;       ///< metres, ends and vertical legs included
  std::vector<Lay> lays;        ///< of the piece from each place of the path to the next
  bool blocked = false;         ///< no way round the obstacles: the path is the straight line
  double planLength = 0.0;      ///< m, on plan
  double verticalLength = 0.0;  ///< m, up and down
  /// Electrical and hand length: plan + vertical, m; a jumper inside touching ends has at least the string's
  /// spacing.
  double length() const { return planLength + verticalLength; }
  /// (length + tails + drip loops) × (1 + slack), rounded up; or the owned lead's length.
  Length cutLength;
  bool owned = false;       ///< cutLength is an owned lead's, not to cut
  bool tooShort = false;    ///< the owned lead is shorter than needed
  std::vector<Id> crosses;  ///< walks and drives crossed without provision
  std::vector<Id> enters;   ///< keep-outs it starts or ends in
};

class Visibility;

/// The ground as a graph: shortest ways round everything that blocks leads. Exact (visibility graph).
class Ground {
 public:
  explicit Ground(const yard::Yard& yard);
  static constexpr double kAnyLength = std::numeric_limits<double>::infinity();
  struct Way {
    std::vector<Vec2> points;
    std::vector<bool> inTrench;  ///< of the leg from each point to the next
    double length = 0.0;         ///< m
    double cost = 0.0;           ///< m, as what is dear to cross and what lies in a trench count
    bool blocked = false;
  };
  /// Cheapest way from a to b over the given places in order: the shortest one, unless the yard's settings
  /// put a price on crossings or there are trenches. A terminal inside an obstacle leaves it by the shortest
  /// way out (a box on a wall, a prop in a bed). Where that way is longer than `most` metres, the shortest
  /// one of all, whatever it costs: data goes only so far.
  Way shortest(Vec2 a, Vec2 b, const std::vector<Vec2>& via = {}, double most = kAnyLength) const;
  /// Walks and drives without provision that the way crosses outside a trench.
  std::vector<Id> crossed(const std::vector<Vec2>& points, const std::vector<bool>& inTrench = {}) const;
  std::vector<Id> keepOutsAt(Vec2 place) const;
  /// Corners that ways bend round, m; at a fence's bend 1 µm beside it.
  std::vector<Vec2> corners() const;
  /// Made from the same parts of a yard: its ways are that yard's too.
  bool isOf(const yard::Yard& yard) const;

 private:
  struct Graph;
  static Way over(const Visibility& visibility, Vec2 a, Vec2 b, const std::vector<Vec2>& via);
  std::shared_ptr<const Graph> graph_;
  std::vector<yard::RecordPtr> madeFrom_;
};

/// Every cable of the yard: leads, jumpers, feeds, mains cords, receiver links, in the order of their keys.
/// The ground remembers the ways it was asked for, so routing again over the same ground is quick.
struct Routes {
  std::map<CableKey, RoutedCable> cables;
};
Routes route(const yard::Yard& yard, const Shapes& shapes, const Ground& ground);

/// What is to be dug for cables along the ground: each place once, however many cables lie there.
struct Digging {
  double length = 0.0;   ///< m of trench, those drawn included unless they are there already
  double oneEach = 0.0;  ///< m if every cable were dug in for itself
};
Digging diggingOf(const yard::Yard& yard, const Routes& routes);

/// Mains cords that lead to a box instead of a supply, from an outlet or from another box: all supplies in
/// the box that are plugged into the outlet where they start hang on them. One a box; those that start
/// nowhere are left out.
struct BoxCords {
  struct Cord {
    Id record;            ///< the Cable
    yard::Terminal from;  ///< outlet, or the box before
    Id outlet;            ///< where the chain starts
  };
  std::map<Id, Cord> cords;  ///< by box
};
BoxCords boxCords(const yard::Yard& yard);
/// The cords from its outlet to a supply, in that order: its own, or those of its box; empty if it is not
/// plugged in.
std::vector<CableKey> cordsTo(const yard::Yard& yard, const BoxCords& boxes, Id supply);

/// What a lead or jumper leads to: a stretch, a null pixel or a booster; other cables: a stretch.
yard::RunItemKind leadsTo(const yard::Yard& yard, const CableKey& key);

/// Yard place of a terminal, metres; on a box at the height where leads leave it.
Vec3 placeOf(const yard::Yard& yard, const Shapes& shapes, const yard::Terminal& terminal);

/// Ohms of one conductor per metre: printed figure, else by gauge and material (ASTM B258, IEC 60028; CCA by
/// ASTM B566), stranding and temperature of the yard's settings applied.
base::OhmsPerMetre resistancePerMetre(const yard::Wire& wire, const yard::Settings& settings);
/// Price of a metre of wire, in the yard's currency: its own, else assumed from its copper (our own
/// judgement, no source).
double pricePerMetre(const yard::Wire& wire);
/// Most amps of a wire: printed, else the project's table by gauge; 0 where neither says.
base::Amps limitOf(const yard::Wire& wire);
/// Where that limit comes from, for findings and sheets.
std::string limitSource(const yard::Wire& wire);

}  // namespace yw::routes
