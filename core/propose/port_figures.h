#pragma once
#include <limits>
#include <map>
#include <set>
#include <vector>

#include "core/assess/assess.h"
#include "core/propose/port_plan.h"

// What the props and ports of a yard are to the planner of ports: port_plan.h's plain figures, and what each
// of them stands for.
namespace yw::propose {

/// Our own judgement, no source: two plugs of a lead, of a jumper; a port's fuse and label; a null pixel and
/// a booster with their joints; feeds for each ampere that a port does not give; an adapter between unlike
/// plugs.
inline constexpr double kLeadCost = 3.0, kJumperCost = 2.0, kPortCost = 2.0, kNullCost = 2.0,
                        kBoosterCost = 10.0, kFeedAmpsCost = 3.0, kAdapterCost = 4.0;
/// A group parted for less money than this stays together.
inline constexpr double kPartedCost = 200.0;

/// The way of a lead or jumper.
struct PortGap {
  double cost = std::numeric_limits<double>::infinity();
  double length = 0.0, limit = 0.0;  ///< m; the limit is what is planned on
  std::size_t extra = 0;             ///< boosters before a lead's end, null pixels before a jumper's
};

struct PortFigures {
  PortJob job;
  std::vector<yard::RunItem> parts;          ///< of PortJob::parts
  std::vector<std::vector<base::Id>> ports;  ///< of each of PortJob::sites, spare ones too
  std::set<base::Id> keptRuns;               ///< stay as they are
  std::vector<std::vector<PortGap>> leads;   ///< [site][part · 2 + turned], as PortJob::lead
  std::map<std::pair<std::size_t, std::size_t>, std::size_t> nulls;  ///< before a jumper's end, where any
};

/// Parts are whole props of what is shown this year, cut at joints where a port takes fewer pixels; ports and
/// props kept as they are are left out, and so are the ports that should stay free.
PortFigures portFigures(const assess::Assessment& a);

/// Uses the ports that should stay free too; false: there are none.
bool useSparePorts(PortFigures& figures);

/// The part of a node of the job, turned as that says.
yard::RunItem turnedPart(const PortFigures& figures, std::size_t node);
/// y goes on where x ends on the same string, so that both are one stretch.
bool goesOn(const PortFigures& figures, std::size_t x, std::size_t y);

/// A stretch that no port takes, and why not.
struct Unplaced {
  yard::RunItem part;
  double amps = 0.0;
  bool volts = false;    ///< some port gives its volts
  bool reached = false;  ///< and some port of those reaches it
  PortGap nearest;       ///< the shortest way from a port of those
};
std::vector<Unplaced> unplacedOf(const PortFigures& figures, const PortPlan& plan);

}  // namespace yw::propose
