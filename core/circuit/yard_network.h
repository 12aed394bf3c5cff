#pragma once
#include <map>
#include <optional>
#include <utility>
#include <vector>

#include "core/circuit/power.h"

namespace yw::circuit {

/// Mated contacts on each conductor of a lead, jumper or feed: one at each end.
inline constexpr double kContacts = 2.0;

/// The yard's network with the places of everything that figures are wanted of. -1: it has none.
struct YardNetwork {
  Built built;
  struct Rails {
    std::int32_t positive = -1, zero = -1;  ///< nodes, or conductors
  };
  std::map<Id, std::size_t> chainOf;   ///< run
  std::map<Id, std::size_t> sourceOf;  ///< supply
  std::map<Id, Rails> leads;           ///< run: conductors from port to first pixel
  std::map<CableKey, Rails> cables;    ///< feeds, trunks, ties: conductors
  struct FeedEnd {
    Id fusePosition, run;
    std::int64_t place = -1;  ///< 0-based place along the run
    Rails atFuse;             ///< nodes: V+ behind the fuse, 0 V of the supply
  };
  std::map<Id, FeedEnd> feeds;  ///< by cable record

  /// A place where V+ can be parted: a fuse position, a port's fuse and lead, a feed that has no fuse.
  struct Gate {
    Id id;         ///< fuse position, port or feed
    Id feed, run;  ///< none: nothing of that kind behind it
    Id supply;
    std::int64_t place = -1;      ///< 0-based along the run
    std::int32_t conductor = -1;  ///< carries its amps
    base::Current fuse;           ///< 0: none
    CableKey cable;               ///< behind it; of none: nothing
  };
  std::vector<Gate> gates;  ///< positions that feed something, leads with V+, then feeds without a fuse
  std::map<Id, std::int32_t> zeros;  ///< 0 V node of each controller and receiver
  /// What each load stands for, so that only loads need be swapped for another brightness.
  struct LoadOf {
    const yard::Product* product = nullptr;
    bool null = false;  ///< a null pixel: only idle
  };
  std::vector<LoadOf> loadOf;
  std::vector<Load> loads(const Levels& levels) const;
};

/// Ω of one conductor of a wire for each meter, looked up once a wire; none or unknown: kAssumedGauge.
class OhmsPerMetre {
 public:
  explicit OhmsPerMetre(const yard::Yard& yard) : yard_(yard) {}
  double operator()(Id wire);

 private:
  const yard::Yard& yard_;
  std::map<Id, double> known_;
};

/// With its loads at that condition.
YardNetwork networkOf(const yard::Yard& yard, const Shapes& shapes, const Routes& routes,
                      const Layouts& layouts, Condition condition = Condition::BrightnessLimit);
/// The level of every color under a condition.
Levels levelsUnder(const yard::Yard& yard, Condition condition);

}  // namespace yw::circuit
