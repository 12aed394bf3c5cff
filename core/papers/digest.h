#pragma once
#include <set>
#include <string>
#include <vector>

#include "core/assess/assess.h"
#include "core/papers/words.h"
#include "core/yard/labels.h"

namespace yw::papers {

using assess::Assessment;
using base::Id;

/// One item of a run with what the sheets say of it.
struct Piece {
  std::int64_t item = 0;  ///< index into Run::items
  yard::RunItemKind kind = yard::RunItemKind::Stretch;
  Id prop;
  std::int64_t entered = 0, left = 0;         ///< pixel of the prop where data enters and leaves, 1-based
  std::int64_t first = 0, last = 0;           ///< places along the run, 1-based; 0: none (a booster)
  std::int64_t count = 0;                     ///< null or unused pixels
  const routes::RoutedCable* lead = nullptr;  ///< cable before it
  std::string enters, leaves;                 ///< landmarks on the prop
};

/// A place where V+ comes into a run: its port or a feed.
struct PowerPoint {
  Id feed;                           ///< none: the port
  std::int64_t pixel = 1;            ///< place along the run, 1-based
  bool cut = false;                  ///< V+ is cut just before it
  std::int64_t first = 1, last = 0;  ///< places nearest to it along the wire
  bool alone = true;                 ///< nothing else feeds its section: dark without it, else low
};

class Digest;

/// Cells of a table that say where a prop or a box is: on the ground east and north, or on a wall along it
/// and up; the others stay empty.
struct PlaceCells {
  PlaceCells(const Digest& digest, Id onWall, base::Point at);
  std::string east, north, wall, along, up;
};

/// Look-ups and figures the tables and the sheets share, so that both say the same.
class Digest {
 public:
  explicit Digest(const Assessment& assessment);

  const Assessment& a;
  const yard::Yard& y;
  const yard::Settings& set;
  const base::UnitSystem units;

  const std::string& label(Id id) const;
  /// `Arches (K1-P05)` where a run has a name besides its port; else the label.
  std::string runName(Id run) const;
  /// Label of the yard's record, or `—` for none.
  std::string labelOrDash(Id id) const { return id ? label(id) : "—"; }

  /// What the yard is called; while an idea is shown, with the idea's name.
  std::string yardName() const;
  /// The idea that is shown; null: the yard itself.
  const yard::Idea* idea() const;

  std::string lengthUnit() const { return units == base::UnitSystem::Metric ? "m" : "ft"; }
  double inUnit(double metres) const { return units == base::UnitSystem::Metric ? metres : metres / 0.3048; }
  double inUnit(base::Length length) const { return inUnit(base::metres(length).si); }
  std::string height(double metres) const;         ///< 12′ 6″ or 3.81 m
  std::string cutText(base::Length length) const;  ///< `24 ft`
  std::string wireName(Id wire) const;             ///< `18/3`, or `—`

  const std::vector<Id>& runs() const {
    return runs_;
  }  ///< by controller, receiver and port, then unplugged ones
  const std::vector<Id>& feeds() const { return feeds_; }  ///< by box and fuse position
  /// Feeds that land in a run, in the same order.
  const std::vector<Id>& feedsOf(Id run) const;
  const std::vector<Id>& boxes() const { return boxes_; }  ///< by label
  std::vector<Id> portOwners(Id box) const;                ///< controllers, then receivers, of a box
  std::vector<Id> suppliesIn(Id box) const;

  std::vector<Piece> pieces(Id run) const;
  std::vector<PowerPoint> powerPoints(Id run) const;
  /// The power point of a feed in its run.
  PowerPoint powerPoint(Id feed) const;
  Id runOfFeed(Id feed) const;
  const routes::RoutedCable* cable(routes::CableKey key) const;
  const routes::RoutedCable* feedCable(Id feed) const { return cable({routes::CableRole::Feed, feed, 0}); }
  const circuit::RunLayout* layout(Id run) const;
  const circuit::RunFigure* figure(const circuit::Power& power, Id run) const;
  const data::RunData* dataOf(Id run) const;
  bool rests(Id prop) const;  ///< drawn, but on no sheet of this year
  const yard::Product* product(Id prop) const;

  /// `Arch 1 pixel 25` of a place along the run (1-based); `null pixel` where it is one.
  std::string pixelName(Id run, std::int64_t place) const;
  /// Landmark at a pixel's side: `west foot`, `strip 3, top`; empty when none is near.
  std::string landmark(Id prop, std::int64_t pixel) const;
  /// Height of a prop's pixel above the ground, m.
  double pixelHeight(Id prop, std::int64_t pixel) const;

  /// True when a figure of the run rests on assumed product data.
  bool assumedRun(Id run) const;
  bool assumedSupply(Id supply) const;
  /// Names of the run's products whose electrical figures are assumed.
  std::set<std::string> assumedProducts(Id run) const;

  /// Amps of a fuse position or port with any one other lost, when that adds to them: `5.20 A if K1-F2 is
  /// lost`.
  std::string ifLost(Id gate) const;

  double brightnessLimit() const { return base::fraction(set.brightnessLimit); }

 private:
  void sortByLabel(std::vector<Id>& ids) const;
  mutable std::map<Id, std::string> labels_;
  std::vector<Id> runs_, feeds_, boxes_;
  std::map<Id, std::vector<Id>> feedsOf_;
};

/// All cables: by wire, then the longest first.
std::vector<const routes::RoutedCable*> cutOrder(const Digest& digest);
/// `K2-P05-A  FROM K2 port 5 → TO Ring 3 IN  18/3  24 ft`: what goes on both ends.
std::string endLabel(const Digest& digest, const routes::RoutedCable& cable);
std::string roleText(routes::CableRole role);

/// Natural order: `Arch 2` before `Arch 10`.
bool naturalLess(const std::string& a, const std::string& b);

/// What one map key holds, or null.
template <class Map, class Key>
const typename Map::mapped_type* lookUp(const Map& map, const Key& key) {
  const auto it = map.find(key);
  return it == map.end() ? nullptr : &it->second;
}

}  // namespace yw::papers
