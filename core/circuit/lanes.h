#pragma once
#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace yw::circuit {

/// Stretches are computed eight at a time, one a lane: pixel q of lane l lies at q·8 + l. A stretch shorter
/// than its group is padded with pixels without resistance or load, which change nothing. The lane count is
/// fixed, so that the same network gives the same bits whatever vector width the machine has.
inline constexpr std::size_t kLanes = 8;
using LaneValues = std::array<double, kLanes>;

/// What the two ends of eight condensed stretches see. The `to` end draws self·V + mutual·V(from) + start,
/// the `from` end fromSelf·V + mutual·V(to) + fromStart.
struct LaneEnds {
  LaneValues self{}, start{}, mutual{};
  LaneValues fromSelf{}, fromStart{};
};

/// Pixels of eight stretches: each draws slope·V + start; `ohms` from it to the next (the last to the `to`
/// end).
struct LanePixels {
  const double *ohms, *slope, *start;
};
/// What condensing leaves of each pixel: V = shrink·Vnext - offset - carry·Vfrom.
struct LaneShares {
  double *shrink, *offset, *carry;
};
/// Volts at both ends of eight stretches, and the bounds in which no pixel leaves its straight piece.
struct LaneReach {
  LaneValues from{}, to{}, low{}, high{};
};

/// Sums over the pixels of eight stretches that draw `start` whatever their volts.
struct LaneSums {
  LaneValues ohms{}, amps{}, moment{};  ///< whole Ω from the `from` end; Σ start; Σ start·(Ω from that end)
};

/// The loops for one vector width.
struct LaneLoops {
  /// Eliminates `count` pixels a lane. `firstSiemens`: of the segment before the first pixel, 0 for a tail.
  /// False if a pivot is not positive.
  bool (*condense)(std::size_t count, const LaneValues& firstSiemens, const LanePixels& pixels,
                   const LaneShares& shares, LaneEnds& ends);
  /// The same with pixels that draw watts/V on top (0: none), taken as the tangent at their `volts`, but not
  /// below the lane's `cut`.
  bool (*condenseCurved)(std::size_t count, const LaneValues& firstSiemens, const LanePixels& pixels,
                         const double* watts, const LaneValues& cut, const double* volts,
                         const LaneShares& shares, LaneEnds& ends);
  /// Sums of `count` pixels a lane; `firstOhms`: of the segment before the first pixel.
  void (*sum)(std::size_t count, const LaneValues& firstOhms, const LanePixels& pixels, LaneSums& sums);
  /// Volts of pixels that draw `start`, from the volts and the current at the `to` end; returns as fill does.
  std::uint32_t (*fillFlat)(std::size_t count, const LaneReach& reach, const LaneValues& amps,
                            const LanePixels& pixels, double* volts);
  /// Lanes whose bit is set in `flat` as fillFlat does, the others as fill does.
  std::uint32_t (*fillMixed)(std::size_t count, const LaneReach& reach, const LaneValues& amps,
                             const LanePixels& pixels, const LaneShares& shares, std::uint32_t flat,
                             double* volts);
  /// Volts of the pixels from those of the ends. Which lanes have a pixel outside low <= V < high, by bit.
  std::uint32_t (*fill)(std::size_t count, const LaneReach& reach, const LaneShares& shares, double* volts);
  /// The same; `farthest`: how far the farthest pixel with watts moved from the volts that stood, V.
  std::uint32_t (*fillCurved)(std::size_t count, const LaneReach& reach, const LaneShares& shares,
                              const double* watts, double* volts, double& farthest);
};
/// Every width that this machine can run, narrowest first; all give the same bits.
std::vector<LaneLoops> laneLoops();
/// The widest.
const LaneLoops& bestLoops();

}  // namespace yw::circuit
