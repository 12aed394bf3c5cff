#pragma once
// What is not known for certain of a yard's electricity, and how each figure of the network follows from it.
//
// Unknowns are shared: all pixels of one product vary together, so do all reels of one wire, all plug
// contacts and all pixels on one supply. Each is a standard normal number z. A current, a wire's or a
// contact's resistance is its planned figure times exp(sigma z), so that it never falls below nothing; a
// supply's volts are the planned ones times 1 + sigma z. A spread s is read as the guide to uncertainty (JCGM
// 100:2008, 4.3.4) reads a stated 95 % range: sigma = ln(1 + s) / 1.96, or s / 1.96 for volts. Besides, each
// pixel and each contact differs a little on its own.
#include <compare>
#include <map>
#include <vector>

#include "core/circuit/yard_network.h"

namespace yw::circuit {

enum class UnknownKind : std::uint8_t {
  PixelCurrent,     ///< of a product
  JointResistance,  ///< of all plug contacts
  WireResistance,   ///< of a wire; of none: strings and leads whose wire is not said
  SupplyVolts,      ///< of a supply
  EachPixel,        ///< pixel from pixel
  EachJoint,        ///< contact from contact
};
/// One unknown; `of` is the product, wire or supply.
struct Unknown {
  UnknownKind kind = UnknownKind::PixelCurrent;
  Id of;
  auto operator<=>(const Unknown&) const = default;
};

/// 95 in 100 of a normal distribution lie within this many standard deviations.
inline constexpr double kNineteenInTwenty = 1.959963984540054;
double logSigma(double spread);

/// An electrically joined part of the yard: the same as a network of its own.
struct JoinedPart {
  Network network;                  ///< as planned
  std::vector<Id> runs;             ///< of each chain
  std::vector<std::size_t> chains;  ///< number of each chain in the yard's network
  std::vector<std::size_t> conductors, sources;
  std::vector<std::int32_t> extraNode;  ///< number in the yard's network of each extra node
  std::vector<std::size_t> unknowns;    ///< into UncertainYard::unknowns

  struct Segment {
    std::uint32_t chain, pixel;
    double positive, zero;  ///< Ω of this unknown in it
    double contacts;        ///< plug contacts of each conductor; 0 for a wire
  };
  struct Joint {
    std::uint32_t conductor;
    double ohms, contacts;
  };
  /// What an unknown moves, in the order of `unknowns`.
  struct Reach {
    std::vector<Segment> segments;
    std::vector<Joint> joints;
    std::vector<std::uint32_t> sources;
    std::vector<std::uint32_t> loads;
  };
  std::vector<Reach> reach;
  std::vector<double> eachSigma;  ///< [load] pixel from pixel
  double jointSigma = 0.0;        ///< contact from contact
};

struct UncertainYard {
  YardNetwork net;
  std::vector<Unknown> unknowns;  ///< rising
  std::vector<double> sigma;      ///< of each
  std::vector<JoinedPart> parts;
  std::map<Id, std::pair<std::size_t, std::size_t>> runPlace;  ///< run: part, chain in it

  /// The part's network where the unknowns have the values z (one for each of `unknowns`). At 0 the planned
  /// network to the bit.
  Network at(const JoinedPart& part, const std::vector<double>& z) const;
};

/// `settings.brightnessLimit` of the yard is the brightness.
UncertainYard uncertain(const yard::Yard& yard, const Shapes& shapes, const Routes& routes,
                        const Layouts& layouts);

/// The same load at `factor` times its current at every voltage.
Load scaled(const Load& load, double factor);

/// How the volts of one pixel follow from everything, at one state of the network.
struct Sensitivity {
  std::vector<double> slope;                ///< V per unit of z, in the order of the part's unknowns
  double eachPixel = 0.0, eachJoint = 0.0;  ///< V, standard deviations
};
/// By reciprocity: the network is symmetric, so one more solve with a little more current at that pixel tells
/// what every current, resistance and source does to its volts.
Sensitivity sensitivity(const UncertainYard& yard, const JoinedPart& part, const std::vector<double>& z,
                        const Network& network, const Solution& solution, std::size_t chain,
                        std::size_t pixel);

}  // namespace yw::circuit
