#pragma once
#include <array>
#include <cstdint>
#include <string>
#include <vector>

namespace yw::circuit {

/// What a pixel draws at a voltage V across it (amperes, volts). All kinds give 0 at V <= 0.
///   ConstantCurrent  idle·ramp + sum over the channels of amps·clamp((V - dark)/(full - dark), 0, 1)
///   Resistor         idle·ramp + sum over the channels of max(0, V - dark)/ohms
///   Regulated        idle·ramp + watts/V for V >= cut, watts·V/cut² below
/// `ramp` brings the idle current up from V = 0 to V = 1 V so that no kind draws from a dead rail. A pixel
/// whose colors are in series has one channel. The knee's straight line is a modelling choice.
struct Load {
  enum class Kind : std::uint8_t { ConstantCurrent, Resistor, Regulated };
  /// One color: red, green, blue, white in this order where a pixel has them.
  struct Channel {
    double amps = 0.0;  ///< A at full regulation (ConstantCurrent)
    double dark = 0.0;  ///< V at which current begins
    double full = 0.0;  ///< V from which the current is `amps` (ConstantCurrent)
    double ohms = 0.0;  ///< Resistor; 0: the channel is absent
    bool operator==(const Channel&) const = default;
  };
  Kind kind = Kind::ConstantCurrent;
  double idle = 0.0;  ///< A
  std::array<Channel, 4> channels{};
  double watts = 0.0;  ///< Regulated
  double cut = 0.0;    ///< V, Regulated
  bool operator==(const Load&) const = default;
};
/// Current in A and its slope dI/dV in A/V.
struct LoadPoint {
  double amps, slope;
};
LoadPoint evaluate(const Load& load, double volts);

/// A chain of pixels along one string: nodes 0..count-1, each with its own load index and the conductor
/// resistance of the segment before it (segment 0 joins node 0 to nothing and is ignored).
struct Chain {
  std::vector<std::int32_t> load;  ///< per pixel, into Network::loads
  std::vector<double> positive;    ///< Ω, V+ segment before each pixel; +inf: V+ is cut there
  std::vector<double> zero;        ///< Ω, 0 V segment before each pixel
};

/// A single-conductor joint between two nodes of one rail. Without resistance the two are one node; one that
/// closes a loop of such joints carries 0 A.
struct Conductor {
  std::int32_t a, b;      ///< node numbers
  double ohms;            ///< >= 0
  std::int64_t tag = -1;  ///< caller's own number, copied to the answer
};

/// An ideal source with a series resistance (>= 0) between a V+ node and a 0 V node. Without resistance it
/// fixes the volts; where that contradicts an earlier one or a short, 1 mΩ is put in.
struct Source {
  std::int32_t positive, zero;
  double volts, ohms;
  std::int64_t tag = -1;
};

/// The whole yard's or one island's electricity. Nodes 0..extraNodes-1 are free nodes (fuse outlets, supply
/// terminals, port pins); chain c's pixel k has its own V+ and 0 V node, numbered by positiveNode/zeroNode.
struct Network {
  std::vector<Load> loads;
  std::vector<Chain> chains;
  std::int32_t extraNodes = 0;
  std::vector<Conductor> conductors;
  std::vector<Source> sources;

  /// Valid once extraNodes and the sizes of all chains before this one stand.
  std::int32_t positiveNode(std::size_t chain, std::size_t pixel) const;
  std::int32_t zeroNode(std::size_t chain, std::size_t pixel) const;
  std::int64_t pixelCount() const;
};

struct Solution {
  enum class State { Solved, NoOperatingPoint, Open /* a pixel or part without any source */ };
  State state = State::Solved;             ///< the worst: NoOperatingPoint before Open before Solved
  std::vector<std::vector<double>> volts;  ///< [chain][pixel], V across the pixel
  std::vector<std::vector<double>>
      zeroVolts;  ///< [chain][pixel], V of its 0 V against the island's reference
  std::vector<std::vector<double>> positiveAmps;  ///< [chain][segment], A flowing in V+ from pixel k-1 to k
  std::vector<std::vector<double>> zeroAmps;      ///< [chain][segment], A flowing in 0 V from pixel k-1 to k
  std::vector<double> conductorAmps;              ///< per conductor, from a to b
  std::vector<double> sourceAmps;                 ///< per source, out of its V+
  std::vector<double> nodeVolts;                  ///< extra nodes against the island's reference
  std::vector<std::vector<std::uint8_t>>
      fed;  ///< [chain][pixel]: 0 where no source reaches it (its volts are 0)
  /// NoOperatingPoint: the weakest pixel, the largest factor on all loads that has one, and volts/amps above
  /// are the cut-off state (a separate, labelled result), never negative.
  std::size_t weakestChain = 0, weakestPixel = 0;
  double loadFactor = 1.0;
  /// The same for each chain: Open where a pixel is not fed, NoOperatingPoint where a regulated pixel is
  /// below its cut in an island without an operating point; load factor and weakest pixel of that chain's
  /// island.
  struct ChainState {
    State state = State::Solved;
    double loadFactor = 1.0;
    std::size_t weakestChain = 0, weakestPixel = 0;
  };
  std::vector<ChainState> chainStates;
  int steps = 0;
  double residual = 0.0;  ///< largest Kirchhoff residual, A
};

/// Operating point with V+ and 0 V as separate rails. Deterministic: the same network gives the same bits.
Solution solve(const Network& network);

/// The same network as a SPICE deck whose .op prints every pixel's volts (for tests and curious people).
std::string spiceDeck(const Network& network);

}  // namespace yw::circuit
