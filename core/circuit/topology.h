#pragma once
#include <cstdint>
#include <span>
#include <vector>

#include "core/circuit/network.h"

namespace yw::circuit {

/// A pixel whose two rails are nodes of their own in the small system: something is attached to it.
struct Pair {
  std::int32_t chain, pixel;
  bool fed = false;  ///< V+ and 0 V meet in one island that has a source
};

/// A piece of chain between two pairs, or from a pair to a free end (tail). Its inner pixels are
/// pixel, pixel + step, … (`count` of them), counted towards `to`.
struct Stretch {
  std::int32_t from;  ///< pair; -1 for a tail
  std::int32_t to;    ///< pair
  std::int32_t chain;
  std::int32_t pixel, step, count;
  double positiveOhms = 0.0, zeroOhms = 0.0;  ///< whole piece (0 for a tail)
  double share = 0.5;                         ///< zero / (positive + zero) of every segment
  bool fed = false;
  double loopOhms() const { return positiveOhms + zeroOhms; }
  double commonOhms() const { return positiveOhms * zeroOhms / (positiveOhms + zeroOhms); }
};

/// A finite resistance between two nodes of the small system.
struct Resistance {
  enum class Of : std::uint8_t { Conductor, PositiveSegment, ZeroSegment, PositiveStretch, ZeroStretch };
  std::int32_t a, b;
  double ohms;
  Of of;
  std::int32_t index;  ///< conductor, stretch, or pair at whose pixel the segment ends
};

/// A source with resistance, or a joint without any, which fixes the volts between two nodes.
struct Feeding {
  std::int32_t positive, zero;
  double volts, ohms;
  std::int32_t source;
};
struct Joint {
  enum class Of : std::uint8_t { Conductor, Source, PositiveSegment, ZeroSegment };
  std::int32_t a, b;  ///< the current counted is that from a to b
  Of of;
  std::int32_t index;
};

/// What belongs to one island: its fed pairs and stretches and all its resistances and feedings, by index.
struct IslandParts {
  std::int32_t reference = 0;  ///< node at 0 V: the 0 V of its first source
  std::int32_t unknowns = 0;
  std::vector<std::int32_t> pairs, stretches, resistances, feedings;
};

/// The small system's nodes: extra nodes first, then V+ and 0 V of each pair. Nodes that are joined without
/// resistance share a class; a node's volts are its class's plus `offset`.
struct Topology {
  std::vector<std::int64_t> pixelBase;  ///< first pixel number of each chain, and the total
  std::vector<std::uint8_t> attached;   ///< [pixel number] a conductor or source ends at it
  std::vector<Pair> pairs;
  std::vector<Stretch> stretches;
  std::vector<Resistance> resistances;
  std::vector<Feeding> feedings;
  std::vector<Joint> joints;  ///< a forest
  std::int32_t nodes = 0, classes = 0;
  std::vector<std::int32_t> classOf;  ///< [node]
  std::vector<double> offset;  ///< [node] V above its class; in the reference's class V above the reference
  std::vector<std::int32_t> island;   ///< [class]; -1: no source reaches it
  std::vector<std::int32_t> unknown;  ///< [class] number in its island's system; -1: known or no island
  std::vector<IslandParts> islands;
  std::int32_t islandOf(std::int32_t node) const { return island[classOf[node]]; }
  std::int32_t unknownOf(std::int32_t node) const { return unknown[classOf[node]]; }
  std::int32_t positiveNode(std::int32_t pair) const { return nodes - 2 * (pairCount() - pair); }
  std::int32_t zeroNode(std::int32_t pair) const { return positiveNode(pair) + 1; }
  std::int32_t pairCount() const { return static_cast<std::int32_t>(pairs.size()); }
};

/// Cuts the network at its attachments, joins what has no resistance and parts it into islands.
Topology topologyOf(const Network& network);

/// Whether the chain could take the place of the one in the network without another cut or joint anywhere.
bool sameCuts(const Network& network, const Topology& topology, std::size_t chain, const Chain& with);
/// Takes the stretches of these chains, all other resistances and source volts from the network anew; what is
/// joined must have stayed the same.
void renewValues(const Network& network, Topology& topology, std::span<const std::uint8_t> chains);

/// Given to an ideal source that is shorted or contradicts another one, so that its current stays finite.
inline constexpr double kQuarrelOhms = 1e-3;

}  // namespace yw::circuit
