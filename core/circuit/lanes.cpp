#include "core/circuit/lanes.h"

#include <cstring>

namespace yw::circuit {

namespace {

enum class Pixels { Flat, Any, Curved };

/// The loops for vectors of W numbers, 8/W vectors a row. Least and most rather than masks: the compiler
/// makes one instruction of them at every width.
template <std::size_t W>
struct Kernel {
  typedef double Vec __attribute__((vector_size(W * sizeof(double))));
  static constexpr std::size_t kRow = kLanes / W;
  static constexpr double kAny = 1e30;  ///< makes any watts more than 1

  __attribute__((always_inline)) static inline void load(Vec (&row)[kRow], const double* from) {
#pragma GCC unroll 8
    for (std::size_t v = 0; v < kRow; ++v) std::memcpy(&row[v], from + v * W, sizeof(Vec));
  }
  __attribute__((always_inline)) static inline void store(const Vec (&row)[kRow], double* to) {
#pragma GCC unroll 8
    for (std::size_t v = 0; v < kRow; ++v) std::memcpy(to + v * W, &row[v], sizeof(Vec));
  }

  /// Adds the tangents of watts/V to the lines.
  __attribute__((always_inline)) static inline void addTangents(Vec (&slope)[kRow], Vec (&start)[kRow],
                                                                const LaneWatts& watts, std::size_t at) {
    Vec p[kRow], u[kRow];
    load(p, watts.watts + at);
    load(u, watts.inverse + at);
#pragma GCC unroll 8
    for (std::size_t v = 0; v < kRow; ++v) {
      const Vec amps = p[v] * u[v];
      slope[v] -= amps * u[v];
      start[v] += amps + amps;
    }
  }

  template <Pixels Kind>
  __attribute__((always_inline)) static inline void way(std::size_t count, const LaneStart& from,
                                                        const LanePixels& in, const LaneWatts& watts,
                                                        LaneWay& out) {
    Vec a[kRow], aAmps[kRow], x[kRow], xAmps[kRow], c[kRow], cAmps[kRow], worst[kRow], first[kRow];
    load(first, from.ohms.data());
#pragma GCC unroll 8
    for (std::size_t v = 0; v < kRow; ++v) {
      // A tail has no ohms before its first pixel: 1 where there are.
      const Vec ended = first[v] > 0.0 ? Vec{} + 1.0 : Vec{};
      a[v] = ended;
      aAmps[v] = c[v] = cAmps[v] = Vec{};
      xAmps[v] = ended;
      x[v] = (ended - 1.0) - first[v] * ended;
      worst[v] = x[v];
    }
    for (std::size_t at = 0; at < count * kLanes; at += kLanes) {
      Vec r[kRow], g[kRow], i[kRow];
      load(r, in.ohms + at);
      load(i, in.start + at);
      if constexpr (Kind != Pixels::Flat) load(g, in.slope + at);
      if constexpr (Kind == Pixels::Curved) addTangents(g, i, watts, at);
#pragma GCC unroll 8
      for (std::size_t v = 0; v < kRow; ++v) {
        cAmps[v] -= i[v];
        if constexpr (Kind != Pixels::Flat) {
          aAmps[v] -= g[v] * a[v];
          xAmps[v] -= g[v] * x[v];
          cAmps[v] -= g[v] * c[v];
          a[v] -= r[v] * aAmps[v];
        }
        x[v] -= r[v] * xAmps[v];
        c[v] -= r[v] * cAmps[v];
        if constexpr (Kind != Pixels::Flat) worst[v] = x[v] > worst[v] ? x[v] : worst[v];
      }
    }
    store(a, out.sent.data());
    store(aAmps, out.sentAmps.data());
    store(x, out.open.data());
    store(xAmps, out.openAmps.data());
    store(c, out.left.data());
    store(cAmps, out.leftAmps.data());
    store(worst, out.worst.data());
  }

  template <Pixels Kind>
  __attribute__((always_inline)) static inline std::uint32_t fill(
      std::size_t count, const LaneStart& start, const LanePixels& in, const LaneReach& reach,
      const LaneWatts& watts, const LaneValues& cut, double* volts, LaneValues& moved) {
    Vec now[kRow], flow[kRow], least[kRow], most[kRow], far[kRow], floor[kRow], first[kRow];
    load(now, start.volts.data());
    load(flow, start.amps.data());
    load(first, start.ohms.data());
    load(floor, cut.data());
#pragma GCC unroll 8
    for (std::size_t v = 0; v < kRow; ++v) {
      now[v] -= first[v] * flow[v];
      least[v] = most[v] = now[v];
      far[v] = Vec{};
    }
    for (std::size_t at = 0; at < count * kLanes; at += kLanes) {
      Vec r[kRow], g[kRow], i[kRow];
      load(r, in.ohms + at);
      load(i, in.start + at);
      if constexpr (Kind != Pixels::Flat) load(g, in.slope + at);
      if constexpr (Kind == Pixels::Curved) {
        addTangents(g, i, watts, at);
        Vec old[kRow], u[kRow], p[kRow];
        load(old, volts + at);
        load(p, watts.watts + at);
#pragma GCC unroll 8
        for (std::size_t v = 0; v < kRow; ++v) {
          const Vec up = now[v] - old[v], down = old[v] - now[v], large = p[v] * kAny;
          const Vec with = large < 1.0 ? large : Vec{} + 1.0;  // 1 where there are watts
          const Vec move = (up > down ? up : down) * with;
          far[v] = move > far[v] ? move : far[v];
          u[v] = 1.0 / (now[v] > floor[v] ? now[v] : floor[v]);
        }
        store(u, watts.inverse + at);
      }
      store(now, volts + at);
#pragma GCC unroll 8
      for (std::size_t v = 0; v < kRow; ++v) {
        least[v] = now[v] < least[v] ? now[v] : least[v];
        most[v] = now[v] > most[v] ? now[v] : most[v];
        flow[v] -= i[v];
        if constexpr (Kind != Pixels::Flat) flow[v] -= g[v] * now[v];
        now[v] -= r[v] * flow[v];
      }
    }
    if constexpr (Kind == Pixels::Curved) store(far, moved.data());
    LaneValues low, high;
    store(least, low.data());
    store(most, high.data());
    std::uint32_t lanes = 0;
    for (std::size_t lane = 0; lane < kLanes; ++lane)
      if (!(low[lane] >= reach.low[lane] && high[lane] < reach.high[lane])) lanes |= std::uint32_t{1} << lane;
    return lanes;
  }

  __attribute__((always_inline)) static inline std::uint32_t eliminate(std::size_t count,
                                                                       const LaneValues& firstSiemens,
                                                                       const LanePixels& in,
                                                                       const LaneShares& out,
                                                                       LaneEnds& ends) {
    Vec e[kRow], j[kRow], f[kRow], self[kRow], selfStart[kRow], weakest[kRow];
    load(e, firstSiemens.data());
#pragma GCC unroll 8
    for (std::size_t v = 0; v < kRow; ++v) {
      j[v] = Vec{};
      f[v] = -e[v];
      self[v] = e[v];
      selfStart[v] = Vec{};
      weakest[v] = e[v] == e[v] ? Vec{} + 1.0 : Vec{};
    }
    for (std::size_t at = 0; at < count * kLanes; at += kLanes) {
      Vec r[kRow], g[kRow], i[kRow], t[kRow], h[kRow], c[kRow];
      load(r, in.ohms + at);
      load(g, in.slope + at);
      load(i, in.start + at);
#pragma GCC unroll 8
      for (std::size_t v = 0; v < kRow; ++v) {
        const Vec whole = e[v] + g[v], drawn = j[v] + i[v];
        const Vec pivot = 1.0 + r[v] * whole;
        weakest[v] = pivot < weakest[v] ? pivot : weakest[v];
        t[v] = 1.0 / pivot;
        const Vec share = r[v] * t[v];
        h[v] = share * drawn;
        c[v] = share * f[v];
        self[v] -= f[v] * c[v];
        selfStart[v] -= f[v] * h[v];
        e[v] = whole * t[v];
        j[v] = drawn * t[v];
        f[v] *= t[v];
      }
      store(t, out.shrink + at);
      store(h, out.offset + at);
      store(c, out.carry + at);
    }
    store(e, ends.self.data());
    store(j, ends.start.data());
    store(f, ends.mutual.data());
    store(self, ends.fromSelf.data());
    store(selfStart, ends.fromStart.data());
    LaneValues least;
    store(weakest, least.data());
    std::uint32_t lanes = 0;
    for (std::size_t lane = 0; lane < kLanes; ++lane)
      if (!(least[lane] > 0.0)) lanes |= std::uint32_t{1} << lane;
    return lanes;
  }

  __attribute__((always_inline)) static inline void restore(std::size_t count, const LaneReach& reach,
                                                            const LaneShares& in, double* volts) {
    Vec begin[kRow], next[kRow];
    load(begin, reach.from.data());
    load(next, reach.to.data());
    for (std::size_t at = count * kLanes; at > 0;) {
      at -= kLanes;
      Vec t[kRow], h[kRow], c[kRow];
      load(t, in.shrink + at);
      load(h, in.offset + at);
      load(c, in.carry + at);
#pragma GCC unroll 8
      for (std::size_t v = 0; v < kRow; ++v) next[v] = t[v] * next[v] - (h[v] + c[v] * begin[v]);
      store(next, volts + at);
    }
  }
};

// An attribute cannot stand in parentheses. NOLINTBEGIN(bugprone-macro-parentheses)
#define YW_LANE_LOOPS(NAME, WIDTH, TARGET)                                                                  \
  TARGET void wayFlat##NAME(std::size_t count, const LaneStart& from, const LanePixels& in, LaneWay& way) { \
    Kernel<WIDTH>::way<Pixels::Flat>(count, from, in, {}, way);                                             \
  }                                                                                                         \
  TARGET void way##NAME(std::size_t count, const LaneStart& from, const LanePixels& in, LaneWay& way) {     \
    Kernel<WIDTH>::way<Pixels::Any>(count, from, in, {}, way);                                              \
  }                                                                                                         \
  TARGET void wayCurved##NAME(std::size_t count, const LaneStart& from, const LanePixels& in,               \
                              const LaneWatts& watts, LaneWay& way) {                                       \
    Kernel<WIDTH>::way<Pixels::Curved>(count, from, in, watts, way);                                        \
  }                                                                                                         \
  TARGET std::uint32_t fillFlat##NAME(std::size_t count, const LaneStart& start, const LanePixels& in,      \
                                      const LaneReach& reach, double* volts) {                              \
    LaneValues none;                                                                                        \
    return Kernel<WIDTH>::fill<Pixels::Flat>(count, start, in, reach, {}, reach.low, volts, none);          \
  }                                                                                                         \
  TARGET std::uint32_t fill##NAME(std::size_t count, const LaneStart& start, const LanePixels& in,          \
                                  const LaneReach& reach, double* volts) {                                  \
    LaneValues none;                                                                                        \
    return Kernel<WIDTH>::fill<Pixels::Any>(count, start, in, reach, {}, reach.low, volts, none);           \
  }                                                                                                         \
  TARGET std::uint32_t fillCurved##NAME(std::size_t count, const LaneStart& start, const LanePixels& in,    \
                                        const LaneReach& reach, const LaneWatts& watts,                     \
                                        const LaneValues& cut, double* volts, LaneValues& moved) {          \
    return Kernel<WIDTH>::fill<Pixels::Curved>(count, start, in, reach, watts, cut, volts, moved);          \
  }                                                                                                         \
  TARGET std::uint32_t eliminate##NAME(std::size_t count, const LaneValues& firstSiemens,                   \
                                       const LanePixels& in, const LaneShares& out, LaneEnds& ends) {       \
    return Kernel<WIDTH>::eliminate(count, firstSiemens, in, out, ends);                                    \
  }                                                                                                         \
  TARGET void restore##NAME(std::size_t count, const LaneReach& reach, const LaneShares& in,                \
                            double* volts) {                                                                \
    Kernel<WIDTH>::restore(count, reach, in, volts);                                                        \
  }                                                                                                         \
  constexpr LaneLoops k##NAME{wayFlat##NAME, way##NAME,        wayCurved##NAME, fillFlat##NAME,             \
                              fill##NAME,    fillCurved##NAME, eliminate##NAME, restore##NAME};

YW_LANE_LOOPS(Plain, 2, )
#if defined(__x86_64__)
YW_LANE_LOOPS(Avx2, 4, __attribute__((target("avx2"))))
YW_LANE_LOOPS(Avx512, 4, __attribute__((target("avx512f,avx512vl,avx512dq"))))
#endif
#undef YW_LANE_LOOPS
// NOLINTEND(bugprone-macro-parentheses)

}  // namespace

std::vector<LaneLoops> laneLoops() {
  std::vector<LaneLoops> all{kPlain};
#if defined(__x86_64__)
  if (__builtin_cpu_supports("avx2")) all.push_back(kAvx2);
  if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512vl") &&
      __builtin_cpu_supports("avx512dq"))
    all.push_back(kAvx512);
#endif
  return all;
}

const LaneLoops& bestLoops() {
  static const LaneLoops chosen = laneLoops().back();
  return chosen;
}

}  // namespace yw::circuit
