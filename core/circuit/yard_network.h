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
};

YardNetwork networkOf(const yard::Yard& yard, const Shapes& shapes, const Routes& routes,
                      const Layouts& layouts, Condition condition);

}  // namespace yw::circuit
