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

/// Eliminates `count` pixels a lane, each drawing slope·V + start, with `ohms` from each pixel to the next
/// (the last to the `to` end). `firstSiemens`: of the segment before the first pixel, 0 for a tail. Leaves in
/// each pixel's shrink, offset and carry what fillLanes needs. False if a pivot is not positive.
bool condenseLanes(std::size_t count, const LaneValues& firstSiemens, const double* ohms, const double* slope,
                   const double* start, double* shrink, double* offset, double* carry, LaneEnds& ends);

/// Volts of the pixels from those of the ends: V = shrink·Vnext - offset - carry·Vfrom. False if any lies
/// outside low <= V < high.
std::uint32_t fillLanes(std::size_t count, const LaneValues& from, const LaneValues& to,
                        const LaneValues& low, const LaneValues& high, const double* shrink,
                        const double* offset, const double* carry, double* volts);

/// Tangents of regulated pixels (watts > 0; others keep what they have) at `next` volts, not below their cut;
/// all times `factor`. Returns how far the farthest of them moved from `volts`, V.
double tangentLanes(std::size_t count, double factor, const double* watts, const double* idle,
                    const double* cut, const double* volts, const double* next, double* slope, double* start);

/// The three loops for one vector width.
struct LaneLoops {
  decltype(&condenseLanes) condense;
  decltype(&fillLanes) fill;
  decltype(&tangentLanes) tangent;
};
/// Every width that this machine can run, narrowest first; the functions above use the last.
std::vector<LaneLoops> laneLoops();

}  // namespace yw::circuit
