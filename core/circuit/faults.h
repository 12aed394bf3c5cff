#pragma once
// What happens when a fuse, a feed, a port or a supply is lost, and when V+ and 0 V touch: every such case of
// the yard, by records.
#include <memory>

#include "core/circuit/parts.h"
#include "core/circuit/power.h"

namespace yw::circuit {

/// A place along a run, 1-based; run none: nowhere.
struct RunPlace {
  Id run;
  std::int64_t place = 0;
};

/// At the brightness limit. `lost` is a fuse position, a port, a feed without a fuse, or a supply.
struct LossFigure {
  Id lost, feed;  ///< the feed behind it, if any
  RunPlace at;    ///< where it comes in
  bool supply = false;
  std::int64_t dark = 0, low = 0;  ///< pixels of props that lose light or true white by it
  RunPlace worst;
  double volts = 0.0, lowest = 0.0;  ///< V there, and what that pixel needs
  Id next;                           ///< fuse position, port or feed that takes over most for its size
  double nextAmps = 0.0, nextBefore = 0.0;
  double nextShare = 0.0;  ///< of its fuse
  base::Current nextFuse;
  double wireShare = 0.0, wireAmps = 0.0, wireLimit = 0.0;  ///< wire that uses most of its limit
  Id wireGate;                  ///< cable behind this fuse position, port or feed,
  RunPlace wireAt;              ///< or the string before this place
  bool follows = false;         ///< the next fuse may open too, from 110 %
  std::int64_t afterwards = 0;  ///< pixels dark or low then
  Id nextSupply;
  double nextSupplyAmps = 0.0;
  double crossing = 0.0;  ///< A of one supply through the V+ of a string into another's
  RunPlace crossingAt;
  double carried = 0.0;  ///< A it carries before it is lost
  /// What could take over tonight: free fuse positions and ports in the same box, other supplies with enough
  /// left, owned leads that are long enough.
  std::vector<Id> spares;
};

struct ShortFigure {
  Id gate, feed;  ///< fuse position, port, or feed without a fuse
  RunPlace at;    ///< where it is hardest to clear
  base::Current fuse;
  PartShort::End end = PartShort::End::Clears;
  double prospective = 0.0, amps = 0.0;  ///< A at first through the short; of this gate at the last
  double least = 0.0, most = 0.0;        ///< s
  double wireAmps = 0.0, wireLimit = 0.0;
  RunPlace wireAt;  ///< string before this place; none: the cable
};

/// Data without its 0 V: pixels from `at` on have no 0 V in common with the board that drives them.
struct ZeroOpen {
  Id board;
  RunPlace at;
};

struct Faults {
  std::map<Id, LossFigure> lost;     ///< by fuse position, port, feed without a fuse, supply
  std::map<Id, ShortFigure> shorts;  ///< by fuse position, port, feed without a fuse
  std::map<Id, ZeroOpen> zeroOpen;   ///< by run
  /// Largest amps of a fuse position, port or feed without a fuse with any one other lost, and which it is;
  /// none: no loss adds to what it carries.
  struct Most {
    double amps = 0.0;
    Id lost;
  };
  std::map<Id, Most> most;
  /// By run with two ways in or more: volts with the one lost that hurts it most, and which.
  struct Worst {
    Id lost;
    std::vector<double> volts;
  };
  std::map<Id, Worst> worst;

  /// Loss of a feed, by its fuse position where it has one.
  const LossFigure* ofFeed(Id feed) const;
  /// Answers of the parts it was made of, lent to the next yard.
  struct Answered {
    std::shared_ptr<const Part> part;
    std::shared_ptr<const PartFaults> faults;
  };
  std::vector<Answered> parts;
};

/// `old` lends the answers of parts that are the same; the result is the same to the bit without it.
/// `net` is the yard's network with its loads at the brightness limit.
Faults faultsOf(const yard::Yard& yard, const Routes& routes, const Layouts& layouts, const YardNetwork& net,
                const Power& limit, const Faults* old = nullptr);

}  // namespace yw::circuit
