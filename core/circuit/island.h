#pragma once
#include <array>
#include <span>
#include <vector>

#include "core/circuit/inner.h"
#include "core/circuit/load_curve.h"
#include "core/circuit/top_system.h"
#include "core/circuit/topology.h"

namespace yw::circuit {

/// One island's Newton iteration: chains condensed to their pairs, the pairs solved as one sparse system, the
/// chains filled in again.
class Island {
 public:
  /// `localPair` is scratch space of one entry a pair, shared by all islands.
  Island(const Network& network, const Topology& topology, std::span<const LoadCurve> curves,
         std::int32_t number, std::span<std::int32_t> localPair);

  struct Answer {
    bool operating = true;  ///< every regulated pixel is on
    double loadFactor = 1.0;
    std::int32_t weakestChain = -1, weakestPixel = -1;
    int steps = 0;
  };
  Answer solve();
  const Answer& answer() const { return answer_; }  ///< of the last solve()

  /// Takes the values of these chains, of all resistances and sources anew (with `loads` also the curves);
  /// what is joined to what must have stayed. False if the island has to be made anew.
  bool renew(const Network& network, std::span<const std::uint8_t> chains, bool loads);

  /// Writes the volts across this island's pixels ([pixel number]) and the unknowns.
  void write(std::span<double> pixelVolts) const;
  std::span<const double> unknowns() const { return now_.top; }

 private:
  struct PairPart {
    std::int32_t pair, curve;                 ///< curve -1: not fed
    std::int32_t p, z;                        ///< unknowns; -1: the reference
    double fixed;                             ///< V across the pair when all unknowns are 0
    std::int32_t pp, zz, pz;                  ///< slots; -1: none
    double lineSlope = 0.0, lineStart = 0.0;  ///< of its own load
    double slope = 0.0, start = 0.0;          ///< with the stretches at it
    bool regulated = false;
    double low = 0.0, high = 0.0;  ///< bounds of its load's region, V: low <= V < high
  };
  struct CrossPart {                   ///< where the two ends of a stretch meet in the system
    std::array<std::int32_t, 4> slot;  ///< from(p,z) × to(p,z): pp, pz, zp, zz; -1: none
    std::array<double, 4> factor;      ///< 2 where both are one unknown
  };
  struct LinePart {  ///< a fixed conductance between two potentials, with a source in it
    std::int32_t a, b;
    double siemens, fixed;  ///< fixed: V(a) - V(b) - source when all unknowns are 0
  };
  struct CommonPart {  ///< the common resistor of a stretch
    std::array<std::int32_t, 4> at;
    std::array<double, 4> weight;
    double siemens, fixed;
  };
  /// Where every pixel stands: unknowns, volts of pairs and inner pixels, regions.
  struct Point {
    std::vector<double> top, pairVolts, volts;
    std::vector<std::uint8_t> pairRegion, region;
  };

  void addPairs(const Network& network, std::span<std::int32_t> localPair);
  void addStretches(const Network& network, std::span<const std::int32_t> localPair);
  void addLines();
  void findMostVolts();
  void addCommon(const Stretch& s);
  void announceAll();
  void stampFixed();
  void findSlots();

  void setLines(Slopes slopes, double factor);
  bool step();
  bool solveTop();
  bool beginTop();
  void stampStretches(std::span<double> values, std::size_t from, std::size_t to);
  template <class Right>
  void stampPair(const PairPart& pair, std::span<double> values, Right&& right);
  void setRegion(std::size_t pair, std::uint8_t region);
  void takeCurve(PairPart& part, const Network& network) const;
  bool accept(double factor, bool condensed, Move& move);
  bool newton(double factor, int most);
  bool iterate(double factor, int most);
  void toAmple();
  void toRegulatedOn();
  void toNoLoad();
  void freshRegions();
  bool pairsOn() const;
  bool allOn() const;
  void findWeakest(Answer& answer) const;
  void findLoadFactor(Answer& answer);

  void descend();
  struct Ray {
    double slope, curvature;
  };
  Ray ray() const;
  double raySlope(const Ray& ray, double along) const;
  double rayRise(const Ray& ray, double along) const;
  void moveAlong(double along);
  double largestMove() const;
  /// visit(curve, volts now, volts next) for every fed pixel.
  template <class Visit>
  void eachLoad(Visit&& visit) const {
    for (std::size_t i = 0; i < pairs_.size(); ++i)
      visit(pairs_[i].curve, now_.pairVolts[i], nextPairVolts_[i]);
    for (std::size_t q = 0; q < inner_.size(); ++q)
      if (inner_.curve(q) >= 0) visit(inner_.curve(q), now_.volts[q], nextVolts_[q]);
  }

  const Topology& topology_;
  const IslandParts& parts_;
  std::span<const LoadCurve> curves_;
  double mostVolts_ = 0.0;  ///< of any source
  std::vector<PairPart> pairs_;
  std::vector<std::int32_t> varying_;  ///< pairs that regulated loads hang on: their own, or a stretch's
  Inner inner_;
  std::vector<CrossPart> crosses_;  ///< of each piece of inner_
  std::vector<LinePart> lines_;
  std::vector<CommonPart> commons_;
  /// Places in the system of each of lines_ (aa, bb, ab) and of commons_ (the lower half of at × at, row by
  /// row); -1: none.
  std::vector<std::array<std::int32_t, 3>> lineSlots_;
  std::vector<std::array<std::int32_t, 10>> commonSlots_;
  TopSystem system_{0};
  bool topStale_ = true;  ///< what does not vary in the system has to be taken anew
  std::vector<double> fixedValues_, fixedRight_, right_;
  Point now_;
  std::vector<double> nextTop_, nextPairVolts_, nextVolts_;
  int steps_ = 0;
  Answer answer_;
};

}  // namespace yw::circuit
