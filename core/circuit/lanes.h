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
/// Pixels that draw watts/V on top (0: none), taken as the tangent at 1/inverse volts.
struct LaneWatts {
  const double* watts;
  double* inverse;
};
/// What elimination leaves of each pixel: V = shrink·Vnext - offset - carry·Vfrom.
struct LaneShares {
  double *shrink, *offset, *carry;
};
/// Volts at both ends of eight stretches, and the bounds in which no pixel leaves its straight piece.
struct LaneReach {
  LaneValues from{}, to{}, low{}, high{};
};

/// Where a march along the pixels starts, at the `from` end: volts, the amps that go in there, and the ohms
/// to the first pixel. A tail starts at its free end, without amps or ohms.
struct LaneStart {
  LaneValues volts{}, amps{}, ohms{};
};
/// A march with what it starts with kept open: at the `to` end there are
///   sent·V + open·x + left volts, and sentAmps·V + openAmps·x + leftAmps go in there,
/// V the volts at the `from` end and x the amps that go in there; of a tail x is its free end's volts, made
/// negative. `open` was below 0 all along the way unless the straight network is not stable.
struct LaneWay {
  LaneValues sent{}, open{}, left{};
  LaneValues sentAmps{}, openAmps{}, leftAmps{};
  LaneValues worst{};  ///< largest `open` on the way
};

/// The loops for one vector width. A march needs neither divisions nor room for what it found on its way, but
/// its rounding grows as the volts do along a stretch: for stretches that take their volts down many times
/// over there is elimination, which has no such growth.
struct LaneLoops {
  /// Pixels that draw the same whatever their volts (slope 0, not read), then any, then those with watts.
  void (*wayFlat)(std::size_t count, const LaneStart& from, const LanePixels& pixels, LaneWay& way);
  void (*way)(std::size_t count, const LaneStart& from, const LanePixels& pixels, LaneWay& way);
  void (*wayCurved)(std::size_t count, const LaneStart& from, const LanePixels& pixels,
                    const LaneWatts& watts, LaneWay& way);
  /// Volts of the pixels. Which lanes have a pixel outside low <= V < high, by bit.
  std::uint32_t (*fillFlat)(std::size_t count, const LaneStart& start, const LanePixels& pixels,
                            const LaneReach& reach, double* volts);
  std::uint32_t (*fill)(std::size_t count, const LaneStart& start, const LanePixels& pixels,
                        const LaneReach& reach, double* volts);
  /// Also takes the tangents anew, at the volts or at the lane's `cut` if they are lower. `moved`: how far
  /// the farthest pixel with watts of a lane moved from the volts that stood, V.
  std::uint32_t (*fillCurved)(std::size_t count, const LaneStart& start, const LanePixels& pixels,
                              const LaneReach& reach, const LaneWatts& watts, const LaneValues& cut,
                              double* volts, LaneValues& moved);

  /// Eliminates `count` pixels a lane. `firstSiemens`: of the segment before the first pixel, 0 for a tail.
  /// Lanes with a pivot that is not positive, by bit.
  std::uint32_t (*eliminate)(std::size_t count, const LaneValues& firstSiemens, const LanePixels& pixels,
                             const LaneShares& shares, LaneEnds& ends);
  /// Volts of eliminated pixels from those of the ends.
  void (*restore)(std::size_t count, const LaneReach& reach, const LaneShares& shares, double* volts);
};
/// Every width that this machine can run, narrowest first; all give the same bits.
std::vector<LaneLoops> laneLoops();
/// The widest.
const LaneLoops& bestLoops();

}  // namespace yw::circuit
