#include "core/circuit/lanes.h"

#include <cstring>

namespace yw::circuit {

namespace {

/// The two loops for vectors of W numbers, 8/W vectors a row.
template <std::size_t W>
struct Kernel {
  typedef double Vec __attribute__((vector_size(W * sizeof(double))));
  typedef std::int64_t Mask __attribute__((vector_size(W * sizeof(double))));
  static constexpr std::size_t kRow = kLanes / W;

  __attribute__((always_inline)) static inline void load(Vec (&row)[kRow], const double* from) {
#pragma GCC unroll 8
    for (std::size_t v = 0; v < kRow; ++v) std::memcpy(&row[v], from + v * W, sizeof(Vec));
  }
  __attribute__((always_inline)) static inline void store(const Vec (&row)[kRow], double* to) {
#pragma GCC unroll 8
    for (std::size_t v = 0; v < kRow; ++v) std::memcpy(to + v * W, &row[v], sizeof(Vec));
  }

  __attribute__((always_inline)) static inline bool condense(std::size_t count,
                                                             const LaneValues& firstSiemens,
                                                             const double* ohms, const double* slope,
                                                             const double* start, double* shrink,
                                                             double* offset, double* carry, LaneEnds& ends) {
    Vec e[kRow], j[kRow], f[kRow], self[kRow], selfStart[kRow];
    Mask good[kRow];
    load(e, firstSiemens.data());
#pragma GCC unroll 8
    for (std::size_t v = 0; v < kRow; ++v) {
      j[v] = Vec{};
      f[v] = -e[v];
      self[v] = e[v];
      selfStart[v] = Vec{};
      good[v] = e[v] == e[v];
    }
    for (std::size_t at = 0; at < count * kLanes; at += kLanes) {
      Vec r[kRow], g[kRow], i[kRow], t[kRow], h[kRow], c[kRow];
      load(r, ohms + at);
      load(g, slope + at);
      load(i, start + at);
#pragma GCC unroll 8
      for (std::size_t v = 0; v < kRow; ++v) {
        const Vec whole = e[v] + g[v], drawn = j[v] + i[v];
        const Vec pivot = 1.0 + r[v] * whole;
        good[v] &= pivot > 0.0;
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
      store(t, shrink + at);
      store(h, offset + at);
      store(c, carry + at);
    }
    store(e, ends.self.data());
    store(j, ends.start.data());
    store(f, ends.mutual.data());
    store(self, ends.fromSelf.data());
    store(selfStart, ends.fromStart.data());
    bool all = true;
#pragma GCC unroll 8
    for (std::size_t v = 0; v < kRow; ++v)
      for (std::size_t k = 0; k < W; ++k) all = all && good[v][k] != 0;
    return all;
  }

  __attribute__((always_inline)) static inline std::uint32_t fill(std::size_t count, const LaneValues& from,
                                                                  const LaneValues& to, const LaneValues& low,
                                                                  const LaneValues& high,
                                                                  const double* shrink, const double* offset,
                                                                  const double* carry, double* volts) {
    Vec begin[kRow], next[kRow], least[kRow], most[kRow];
    Mask out[kRow];
    load(begin, from.data());
    load(next, to.data());
    load(least, low.data());
    load(most, high.data());
#pragma GCC unroll 8
    for (std::size_t v = 0; v < kRow; ++v) out[v] = Mask{};
    for (std::size_t at = count * kLanes; at > 0;) {
      at -= kLanes;
      Vec t[kRow], h[kRow], c[kRow];
      load(t, shrink + at);
      load(h, offset + at);
      load(c, carry + at);
#pragma GCC unroll 8
      for (std::size_t v = 0; v < kRow; ++v) {
        next[v] = t[v] * next[v] - (h[v] + c[v] * begin[v]);
        out[v] |= (next[v] < least[v]) | (next[v] >= most[v]);
      }
      store(next, volts + at);
    }
    std::uint32_t lanes = 0;
    for (std::size_t v = 0; v < kRow; ++v)
      for (std::size_t k = 0; k < W; ++k)
        if (out[v][k] != 0) lanes |= std::uint32_t{1} << (v * W + k);
    return lanes;
  }

  __attribute__((always_inline)) static inline double tangent(std::size_t count, double factor,
                                                              const double* watts, const double* idle,
                                                              const double* cut, const double* volts,
                                                              const double* next, double* slope,
                                                              double* start) {
    Vec farthest[kRow];
#pragma GCC unroll 8
    for (std::size_t v = 0; v < kRow; ++v) farthest[v] = Vec{};
    for (std::size_t at = 0; at < count * kLanes; at += kLanes) {
      Vec p[kRow], i[kRow], least[kRow], old[kRow], now[kRow], g[kRow], s[kRow];
      load(p, watts + at);
      load(i, idle + at);
      load(least, cut + at);
      load(old, volts + at);
      load(now, next + at);
      load(g, slope + at);
      load(s, start + at);
#pragma GCC unroll 8
      for (std::size_t v = 0; v < kRow; ++v) {
        const Mask curved = p[v] > 0.0;
        const Vec move = now[v] > old[v] ? now[v] - old[v] : old[v] - now[v];
        const Vec at0 = curved ? move : Vec{};
        farthest[v] = at0 > farthest[v] ? at0 : farthest[v];
        const Vec u = 1.0 / (now[v] > least[v] ? now[v] : least[v]);
        const Vec amps = p[v] * u;
        g[v] = curved ? -factor * (amps * u) : g[v];
        s[v] = curved ? factor * (i[v] + 2.0 * amps) : s[v];
      }
      store(g, slope + at);
      store(s, start + at);
    }
    double most = 0.0;
#pragma GCC unroll 8
    for (std::size_t v = 0; v < kRow; ++v)
      for (std::size_t k = 0; k < W; ++k) most = farthest[v][k] > most ? farthest[v][k] : most;
    return most;
  }
};

// An attribute cannot stand in parentheses. NOLINTBEGIN(bugprone-macro-parentheses)
#define YW_LANE_LOOPS(NAME, WIDTH, TARGET)                                                                \
  TARGET bool condense##NAME(std::size_t count, const LaneValues& firstSiemens, const double* ohms,       \
                             const double* slope, const double* start, double* shrink, double* offset,    \
                             double* carry, LaneEnds& ends) {                                             \
    return Kernel<WIDTH>::condense(count, firstSiemens, ohms, slope, start, shrink, offset, carry, ends); \
  }                                                                                                       \
  TARGET std::uint32_t fill##NAME(std::size_t count, const LaneValues& from, const LaneValues& to,        \
                                  const LaneValues& low, const LaneValues& high, const double* shrink,    \
                                  const double* offset, const double* carry, double* volts) {             \
    return Kernel<WIDTH>::fill(count, from, to, low, high, shrink, offset, carry, volts);                 \
  }                                                                                                       \
  TARGET double tangent##NAME(std::size_t count, double factor, const double* watts, const double* idle,  \
                              const double* cut, const double* volts, const double* next, double* slope,  \
                              double* start) {                                                            \
    return Kernel<WIDTH>::tangent(count, factor, watts, idle, cut, volts, next, slope, start);            \
  }

YW_LANE_LOOPS(Plain, 2, )
#if defined(__x86_64__)
YW_LANE_LOOPS(Avx2, 4, __attribute__((target("avx2"))))
#endif
#undef YW_LANE_LOOPS
// NOLINTEND(bugprone-macro-parentheses)

const LaneLoops& loops() {
  static const LaneLoops chosen = laneLoops().back();
  return chosen;
}

}  // namespace

std::vector<LaneLoops> laneLoops() {
  std::vector<LaneLoops> all{{condensePlain, fillPlain, tangentPlain}};
#if defined(__x86_64__)
  if (__builtin_cpu_supports("avx2")) all.push_back({condenseAvx2, fillAvx2, tangentAvx2});
#endif
  return all;
}

bool condenseLanes(std::size_t count, const LaneValues& firstSiemens, const double* ohms, const double* slope,
                   const double* start, double* shrink, double* offset, double* carry, LaneEnds& ends) {
  return loops().condense(count, firstSiemens, ohms, slope, start, shrink, offset, carry, ends);
}

std::uint32_t fillLanes(std::size_t count, const LaneValues& from, const LaneValues& to,
                        const LaneValues& low, const LaneValues& high, const double* shrink,
                        const double* offset, const double* carry, double* volts) {
  return loops().fill(count, from, to, low, high, shrink, offset, carry, volts);
}

double tangentLanes(std::size_t count, double factor, const double* watts, const double* idle,
                    const double* cut, const double* volts, const double* next, double* slope,
                    double* start) {
  return loops().tangent(count, factor, watts, idle, cut, volts, next, slope, start);
}

}  // namespace yw::circuit
