#pragma once
#include <cstdint>
#include <vector>

// Which stretches hang on which port, in what order and turned which way, on plain figures;
// ports_of_yard.cpp makes these from a yard.
namespace yw::propose {

/// A stretch of one prop that stays whole.
struct PortPart {
  std::int64_t pixels = 0;
  double amps = 0.0;        ///< at the condition that is planned on
  std::int32_t family = 0;  ///< chip and volts: only one on a port
  std::int32_t group = -1;  ///< parts of one group hang on one controller; -1: of none
};

/// The ports of one power section: all alike, at one place.
struct PortSite {
  std::int32_t ports = 0;   ///< that may be used (spare ones are not counted)
  std::int64_t pixels = 0;  ///< most on one port
  double amps = 0.0;        ///< most of one port
  double bankAmps = 0.0;    ///< most of all of them together
  std::int32_t owner = 0;   ///< index into PortJob::opening
  std::vector<bool> takes;  ///< per family
};

struct PortJob {
  std::vector<PortPart> parts;
  std::vector<PortSite> sites;
  std::vector<std::int64_t> familyPixels;  ///< most pixels of a family on one port, by frame rate
  std::vector<double> opening;             ///< per controller, once it is used at all
  double portCost = 0.0;                   ///< each port used
  double groupCost = 0.0;                  ///< each controller beyond its first that a group hangs on
  /// For each ampere of a port's pixels over what the port gives (feeds bring it); < 0: never over it.
  double ampsCost = -1.0;
  /// A bank carries all amps of its ports' pixels (one supply gives feeds too), not just what ports let
  /// through.
  bool bankTakesAll = false;
  /// Cost of the lead to a part: [site][part · 2 + turned]; infinity: beyond reach. Turned: data enters at
  /// the part's last pixel.
  std::vector<std::vector<double>> lead;
  /// Cost of the jumper from one part to the next, both with their direction; infinity: beyond reach.
  std::vector<std::vector<double>> jumper;
};

/// What hangs on one port, in the order of the data: part · 2 + turned.
struct PortChain {
  std::int32_t site = 0;
  std::vector<std::int32_t> nodes;
};

struct PortEffort {
  std::int64_t tries = 400'000;        ///< of the annealing; the seed is fixed
  std::int32_t exactParts = 20;        ///< up to so many parts the cheapest plan is looked for exactly
  std::int64_t exactStates = 400'000;  ///< and given up beyond so many states
};

struct PortPlan {
  std::vector<PortChain> chains;       ///< by site, then by first part
  std::vector<std::int32_t> unplaced;  ///< parts that no port can take
  double cost = 0.0;                   ///< of what is placed
  double bound = 0.0;                  ///< with all parts placed, no plan costs less
  bool optimal = false;                ///< proved
};

/// Annealing with a fixed number of tries and a fixed seed, then, for few parts, an exact search over all
/// chains that can be.
PortPlan planPorts(const PortJob& job, const PortEffort& effort = {});

/// Cost of one chain on its site without opening; infinity where a limit of that one port is broken.
double chainCost(const PortJob& job, std::int32_t site, const std::vector<std::int32_t>& nodes);
/// Every limit kept: each part at most once, ports, banks, families, pixels, amps, reach.
bool portsHold(const PortJob& job, const std::vector<PortChain>& chains);
/// Cost of a whole plan, opening and parted groups included.
double portsCost(const PortJob& job, const std::vector<PortChain>& chains);

}  // namespace yw::propose
