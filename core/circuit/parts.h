#pragma once
// Everything that is joined electrically as a network of its own, and what happens in it when one thing is
// lost or shorted. Knows places by number only, so that the same part has the same answer wherever it stands.
#include <cstdint>
#include <limits>
#include <vector>

#include "core/circuit/network.h"

namespace yw::circuit {

/// A place where V+ can be parted, with its fuse.
struct PartGate {
  std::int32_t conductor = 0;
  double rating = 0.0;     ///< A; 0: no fuse
  double wireLimit = 0.0;  ///< A of the cable behind; 0: not known
  std::int32_t source = -1;
  std::int32_t chain = -1, place = -1;  ///< where it comes in; -1: at no pixel
  bool operator==(const PartGate&) const = default;
};
/// What a pixel of a load needs.
struct PixelNeed {
  double lowest = 0.0, dark = 0.0;  ///< V
  bool counts = false;              ///< a pixel of a prop, not a null pixel
  bool operator==(const PixelNeed&) const = default;
};

struct Part {
  Network network;               ///< under the condition in which things are lost
  std::vector<Load> still;       ///< the same loads with nothing lit: a short is hardest to clear then
  std::vector<PixelNeed> needs;  ///< per load
  std::vector<std::vector<double>> wireLimits;  ///< [chain][segment], A; 0: not known
  std::vector<PartGate> gates;
  std::vector<double> sourceRated;  ///< A; 0: not known
};
bool same(const Part& a, const Part& b);

/// What one loss does. Numbers count into the part; -1: none.
struct PartLoss {
  std::int64_t dark = 0, low = 0;       ///< pixels that went dark or too low by it
  std::int32_t chain = -1, pixel = -1;  ///< where most of the headroom is gone among those that went low
  double volts = 0.0;
  double lowest = 0.0;     ///< V that pixel needs
  std::int32_t gate = -1;  ///< gets the largest share of its fuse, or wire where it has none, after growing
  double amps = 0.0, before = 0.0;
  double fuseShare = 0.0;  ///< of that fuse's rating
  double wireShare = 0.0;  ///< largest of any wire whose amps grew
  double wireAmps = 0.0, wireLimit = 0.0;
  std::int32_t wireGate = -1, wireChain = -1,
               wireSegment = -1;  ///< which: a cable's gate or a string's piece
  bool follows = false;           ///< the next fuse may open too
  std::int64_t afterwards = 0;    ///< pixels dark or low once it has
  std::int32_t source = -1;       ///< gets the largest share of its rating, after growing
  double sourceAmps = 0.0;
  double crossing = 0.0;  ///< A of V+ through a string between two supplies' entries
  std::int32_t crossingChain = -1, crossingSegment = -1;
};
/// A short behind a gate at the place where it is hardest to clear.
struct PartShort {
  enum class End : std::uint8_t { Clears, SupplyCutsOff, Stays };
  End end = End::Clears;
  std::int32_t chain = -1, pixel = -1;
  double prospective = 0.0;                       ///< A through the short at first
  double amps = 0.0;                              ///< A through this gate when it is the last that feeds it
  double least = 0.0, most = 0.0;                 ///< s until it opens; 0 where it does not
  double wireAmps = 0.0, wireLimit = 0.0;         ///< the wire that uses most of its limit meanwhile
  std::int32_t wireChain = -1, wireSegment = -1;  ///< -1: the cable behind the gate
};
struct PartFaults {
  std::vector<PartLoss> gates, sources;
  std::vector<PartShort> shorts;  ///< per gate; chain -1: nothing behind it to short
  /// [gate] largest A of it with any one gate or source lost, and which: gates, then sources; -1: none adds.
  struct Most {
    double amps = 0.0;
    std::int32_t lost = -1;
  };
  std::vector<Most> most;
  /// [chain] volts with that one of its gates lost that hurts the chain most; empty: it has fewer than two.
  std::vector<std::vector<double>> worst;
  std::vector<std::int32_t> worstGate;  ///< [chain]
};
PartFaults faultsOf(const Part& part);

/// A crushed plug or a nail: not a bolted short. Assumed.
inline constexpr double kShortOhms = 0.01;

/// The network with a conductor opened, a source gone, or a pixel's rails shorted.
Network without(Network network, std::int32_t conductor);
Network withoutSource(Network network, std::int32_t source);
Network shorted(Network network, std::int32_t chain, std::int32_t pixel);
/// One chain and all that is not a chain: what feeds a short. Returns by other chains' 0 V are left out,
/// which makes the current smaller and the short harder to clear.
Network aloneWith(const Network& network, std::int32_t chain, std::vector<std::int32_t>& conductorOf);

}  // namespace yw::circuit
