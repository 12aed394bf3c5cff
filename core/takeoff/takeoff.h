#pragma once
#include <string>
#include <vector>

#include "core/circuit/power.h"
#include "core/routes/routes.h"

namespace yw::takeoff {

using base::Id;
using base::Length;
using base::Money;

/// One line of the parts totals.
struct PartLine {
  std::string group;  ///< Pixels, Leads, Power, Data, Material
  std::string what;
  std::int64_t count = 0;  ///< things; 0 for lengths
  Length length;           ///< wire or stock
  std::int64_t owned = 0;
  std::int64_t strings = 0;  ///< pixels: strings to buy
  Money cost;                ///< 0: no price known
  bool priced = false;
};

struct Totals {
  std::int64_t pixels = 0, props = 0, runs = 0, portsFree = 0, ports = 0, supplies = 0, feeds = 0,
               boosters = 0, nulls = 0, receivers = 0, leads = 0;
  Length leadLength;
  Money cost;
  bool costComplete = true;  ///< false: some part has no price
  std::vector<PartLine> parts;
};

Totals compute(const yard::Yard& yard, const routes::Shapes& shapes, const routes::Routes& routes);

}  // namespace yw::takeoff
