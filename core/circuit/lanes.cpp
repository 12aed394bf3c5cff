#include "core/circuit/lanes.h"

#include <cstring>

namespace yw::circuit {

namespace {

/// The loops for vectors of W numbers, 8/W vectors a row. Least and most rather than masks: the compiler
/// makes one instruction of them at every width.
template <std::size_t W>
struct Kernel {
  typedef double Vec __attribute__((vector_size(W * sizeof(double))));
  typedef std::int64_t Mask __attribute__((vector_size(W * sizeof(double))));
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

  /// Curved: slope and start are the pixel's without its constant power, whose tangent at `volts` is added.
  template <bool Curved>
  __attribute__((always_inline)) static inline bool condense(std::size_t count,
                                                             const LaneValues& firstSiemens,
                                                             const LanePixels& in, const double* watts,
                                                             const LaneValues& cut, const double* volts,
                                                             const LaneShares& out, LaneEnds& ends) {
    Vec e[kRow], j[kRow], f[kRow], self[kRow], selfStart[kRow];
    Vec weakest[kRow];
    Vec floor[kRow];
    load(floor, cut.data());
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
      if constexpr (Curved) {
        Vec p[kRow], now[kRow];
        load(p, watts + at);
        load(now, volts + at);
#pragma GCC unroll 8
        for (std::size_t v = 0; v < kRow; ++v) {
          const Vec u = 1.0 / (now[v] > floor[v] ? now[v] : floor[v]);
          const Vec amps = p[v] * u;
          g[v] -= amps * u;
          i[v] += amps + amps;
        }
      }
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
    bool all = true;
#pragma GCC unroll 8
    for (std::size_t v = 0; v < kRow; ++v)
      for (std::size_t k = 0; k < W; ++k) all = all && weakest[v][k] > 0.0;
    return all;
  }

  __attribute__((always_inline)) static inline void sum(std::size_t count, const LaneValues& firstOhms,
                                                        const LanePixels& in, LaneSums& sums) {
    Vec x[kRow], j[kRow], m[kRow];
    load(x, firstOhms.data());
#pragma GCC unroll 8
    for (std::size_t v = 0; v < kRow; ++v) j[v] = m[v] = Vec{};
    for (std::size_t at = 0; at < count * kLanes; at += kLanes) {
      Vec r[kRow], i[kRow];
      load(r, in.ohms + at);
      load(i, in.start + at);
#pragma GCC unroll 8
      for (std::size_t v = 0; v < kRow; ++v) {
        j[v] += i[v];
        m[v] += i[v] * x[v];
        x[v] += r[v];
      }
    }
    store(x, sums.ohms.data());
    store(j, sums.amps.data());
    store(m, sums.moment.data());
  }

  __attribute__((always_inline)) static inline std::uint32_t fillFlat(std::size_t count,
                                                                      const LaneReach& reach,
                                                                      const LaneValues& amps,
                                                                      const LanePixels& in, double* volts) {
    Vec next[kRow], flow[kRow], least[kRow], most[kRow];
    load(next, reach.to.data());
    load(flow, amps.data());
#pragma GCC unroll 8
    for (std::size_t v = 0; v < kRow; ++v) least[v] = most[v] = next[v];
    for (std::size_t at = count * kLanes; at > 0;) {
      at -= kLanes;
      Vec r[kRow], i[kRow];
      load(r, in.ohms + at);
      load(i, in.start + at);
#pragma GCC unroll 8
      for (std::size_t v = 0; v < kRow; ++v) {
        next[v] -= r[v] * flow[v];
        flow[v] -= i[v];
        least[v] = next[v] < least[v] ? next[v] : least[v];
        most[v] = next[v] > most[v] ? next[v] : most[v];
      }
      store(next, volts + at);
    }
    return outside(reach, least, most);
  }

  __attribute__((always_inline)) static inline std::uint32_t fillMixed(
      std::size_t count, const LaneReach& reach, const LaneValues& amps, const LanePixels& in,
      const LaneShares& shares, std::uint32_t flat, double* volts) {
    Vec begin[kRow], next[kRow], flow[kRow], least[kRow], most[kRow], isFlat[kRow];
    load(begin, reach.from.data());
    load(next, reach.to.data());
    load(flow, amps.data());
#pragma GCC unroll 8
    for (std::size_t v = 0; v < kRow; ++v) {
      least[v] = most[v] = next[v];
      for (std::size_t k = 0; k < W; ++k) isFlat[v][k] = flat >> (v * W + k) & 1u ? 1.0 : 0.0;
    }
    for (std::size_t at = count * kLanes; at > 0;) {
      at -= kLanes;
      Vec r[kRow], i[kRow], t[kRow], h[kRow], c[kRow];
      load(r, in.ohms + at);
      load(i, in.start + at);
      load(t, shares.shrink + at);
      load(h, shares.offset + at);
      load(c, shares.carry + at);
#pragma GCC unroll 8
      for (std::size_t v = 0; v < kRow; ++v) {
        const Vec level = next[v] - r[v] * flow[v];
        const Vec sloped = t[v] * next[v] - (h[v] + c[v] * begin[v]);
        next[v] = isFlat[v] > 0.5 ? level : sloped;
        flow[v] -= i[v];
        least[v] = next[v] < least[v] ? next[v] : least[v];
        most[v] = next[v] > most[v] ? next[v] : most[v];
      }
      store(next, volts + at);
    }
    return outside(reach, least, most);
  }

  /// The `to` end counts as a pixel, which only ever says `outside` too often.
  __attribute__((always_inline)) static inline std::uint32_t outside(const LaneReach& reach,
                                                                     const Vec (&least)[kRow],
                                                                     const Vec (&most)[kRow]) {
    std::uint32_t lanes = 0;
    for (std::size_t v = 0; v < kRow; ++v)
      for (std::size_t k = 0; k < W; ++k)
        if (!(least[v][k] >= reach.low[v * W + k] && most[v][k] < reach.high[v * W + k]))
          lanes |= std::uint32_t{1} << (v * W + k);
    return lanes;
  }

  /// Curved: `farthest` is set to how far the farthest pixel with watts moves from its old volts.
  template <bool Curved>
  __attribute__((always_inline)) static inline std::uint32_t fill(std::size_t count, const LaneReach& reach,
                                                                  const LaneShares& in, const double* watts,
                                                                  double* volts, double& farthest) {
    Vec begin[kRow], next[kRow], least[kRow], most[kRow], far[kRow];
    load(begin, reach.from.data());
    load(next, reach.to.data());
#pragma GCC unroll 8
    for (std::size_t v = 0; v < kRow; ++v) {
      least[v] = most[v] = next[v];
      far[v] = Vec{};
    }
    for (std::size_t at = count * kLanes; at > 0;) {
      at -= kLanes;
      Vec t[kRow], h[kRow], c[kRow];
      load(t, in.shrink + at);
      load(h, in.offset + at);
      load(c, in.carry + at);
#pragma GCC unroll 8
      for (std::size_t v = 0; v < kRow; ++v) {
        next[v] = t[v] * next[v] - (h[v] + c[v] * begin[v]);
        least[v] = next[v] < least[v] ? next[v] : least[v];
        most[v] = next[v] > most[v] ? next[v] : most[v];
      }
      if constexpr (Curved) {
        Vec p[kRow], old[kRow];
        load(p, watts + at);
        load(old, volts + at);
#pragma GCC unroll 8
        for (std::size_t v = 0; v < kRow; ++v) {
          const Vec up = next[v] - old[v], down = old[v] - next[v], large = p[v] * kAny;
          const Vec with = large < 1.0 ? large : Vec{} + 1.0;  // 1 where there are watts
          const Vec move = (up > down ? up : down) * with;
          far[v] = move > far[v] ? move : far[v];
        }
      }
      store(next, volts + at);
    }
    if constexpr (Curved) {
      farthest = 0.0;
      for (std::size_t v = 0; v < kRow; ++v)
        for (std::size_t k = 0; k < W; ++k) farthest = far[v][k] > farthest ? far[v][k] : farthest;
    }
    return outside(reach, least, most);
  }
};

// An attribute cannot stand in parentheses. NOLINTBEGIN(bugprone-macro-parentheses)
#define YW_LANE_LOOPS(NAME, WIDTH, TARGET)                                                                  \
  TARGET bool condense##NAME(std::size_t count, const LaneValues& firstSiemens, const LanePixels& in,       \
                             const LaneShares& out, LaneEnds& ends) {                                       \
    return Kernel<WIDTH>::condense<false>(count, firstSiemens, in, nullptr, firstSiemens, nullptr, out,     \
                                          ends);                                                            \
  }                                                                                                         \
  TARGET bool condenseCurved##NAME(std::size_t count, const LaneValues& firstSiemens, const LanePixels& in, \
                                   const double* watts, const LaneValues& cut, const double* volts,         \
                                   const LaneShares& out, LaneEnds& ends) {                                 \
    return Kernel<WIDTH>::condense<true>(count, firstSiemens, in, watts, cut, volts, out, ends);            \
  }                                                                                                         \
  TARGET void sum##NAME(std::size_t count, const LaneValues& firstOhms, const LanePixels& in,               \
                        LaneSums& sums) {                                                                   \
    Kernel<WIDTH>::sum(count, firstOhms, in, sums);                                                         \
  }                                                                                                         \
  TARGET std::uint32_t fillFlat##NAME(std::size_t count, const LaneReach& reach, const LaneValues& amps,    \
                                      const LanePixels& in, double* volts) {                                \
    return Kernel<WIDTH>::fillFlat(count, reach, amps, in, volts);                                          \
  }                                                                                                         \
  TARGET std::uint32_t fillMixed##NAME(std::size_t count, const LaneReach& reach, const LaneValues& amps,   \
                                       const LanePixels& in, const LaneShares& shares, std::uint32_t flat,  \
                                       double* volts) {                                                     \
    return Kernel<WIDTH>::fillMixed(count, reach, amps, in, shares, flat, volts);                           \
  }                                                                                                         \
  TARGET std::uint32_t fill##NAME(std::size_t count, const LaneReach& reach, const LaneShares& in,          \
                                  double* volts) {                                                          \
    double none = 0.0;                                                                                      \
    return Kernel<WIDTH>::fill<false>(count, reach, in, nullptr, volts, none);                              \
  }                                                                                                         \
  TARGET std::uint32_t fillCurved##NAME(std::size_t count, const LaneReach& reach, const LaneShares& in,    \
                                        const double* watts, double* volts, double& farthest) {             \
    return Kernel<WIDTH>::fill<true>(count, reach, in, watts, volts, farthest);                             \
  }

YW_LANE_LOOPS(Plain, 2, )
#if defined(__x86_64__)
YW_LANE_LOOPS(Avx2, 4, __attribute__((target("avx2"))))
YW_LANE_LOOPS(Avx512, 4, __attribute__((target("avx512f,avx512vl,avx512dq"))))
#endif
#undef YW_LANE_LOOPS
// NOLINTEND(bugprone-macro-parentheses)

}  // namespace

std::vector<LaneLoops> laneLoops() {
  std::vector<LaneLoops> all{{condensePlain, condenseCurvedPlain, sumPlain, fillFlatPlain, fillMixedPlain,
                              fillPlain, fillCurvedPlain}};
#if defined(__x86_64__)
  if (__builtin_cpu_supports("avx2"))
    all.push_back(
        {condenseAvx2, condenseCurvedAvx2, sumAvx2, fillFlatAvx2, fillMixedAvx2, fillAvx2, fillCurvedAvx2});
  if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512vl") &&
      __builtin_cpu_supports("avx512dq"))
    all.push_back({condenseAvx512, condenseCurvedAvx512, sumAvx512, fillFlatAvx512, fillMixedAvx512,
                   fillAvx512, fillCurvedAvx512});
#endif
  return all;
}

const LaneLoops& bestLoops() {
  static const LaneLoops chosen = laneLoops().back();
  return chosen;
}

}  // namespace yw::circuit
