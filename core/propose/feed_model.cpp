#include "core/propose/feed_model.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace yw::propose {

namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

struct Line {
  double slope, start;
  bool straight;
};

/// A straight line that lies on or above the load from `least` up to `top`.
Line lineAbove(const circuit::Load& load, double least, double top, double powerAt) {
  if (top <= least) return {0.0, circuit::evaluate(load, least).amps, false};
  const double low = circuit::evaluate(load, least).amps, high = circuit::evaluate(load, top).amps;
  if (high < low - 1e-12) return {0.0, circuit::evaluate(load, std::max(least, powerAt)).amps, false};
  Line line{std::max(0.0, (high - low) / (top - least)), 0.0, true};
  line.start = low - line.slope * least;
  double lift = 0.0;
  constexpr int kSteps = 32;
  for (int i = 1; i < kSteps; ++i) {
    const double volts = least + (top - least) * i / kSteps;
    const double off = circuit::evaluate(load, volts).amps - (line.slope * volts + line.start);
    lift = std::max(lift, off);
    if (std::abs(off) > 1e-9) line.straight = false;
  }
  if (lift > 1e-12) line.start += lift;
  return line;
}

/// Which supplies the run could ask for too much.
void boundSupplies(const FeedRun& run, FeedModel& m) {
  m.bounded.assign(run.supplyVolts.size(), -1);
  for (std::size_t s = 0; s < run.supplyRoom.size(); ++s) {
    if (m.count == 0 || run.supplyRoom[s] >= m.most.back()) continue;
    if (m.amps.back() < m.most.back() - 1e-9) m.exact = false;  // what is drawn depends on the volts
    if (m.boundedCount == static_cast<std::int32_t>(kMostBounded)) {
      m.exact = false;
      break;
    }
    m.room[static_cast<std::size_t>(m.boundedCount)] = run.supplyRoom[s];
    m.bounded[s] = m.boundedCount++;
  }
}

}  // namespace

FeedModel feedModel(const FeedRun& run, double raise, double share, const std::vector<double>& powerAt) {
  FeedModel m;
  m.count = static_cast<std::int32_t>(run.load.size());
  m.supplyVolts = run.supplyVolts;
  m.fuseShare = share;
  m.raise = raise;
  for (const double volts : run.supplyVolts) m.top = std::max(m.top, volts);
  const auto n = static_cast<std::size_t>(m.count);
  m.ohms.resize(n);
  m.slope.resize(n);
  m.start.resize(n);
  m.least.resize(n);
  m.amps.resize(n);
  m.along.resize(n);
  m.moment.resize(n);
  m.most.resize(n);
  m.lowestLeast = kInfinity;
  double amps = 0.0, along = 0.0, moment = 0.0, most = 0.0;
  for (std::size_t k = 0; k < n; ++k) {
    const circuit::Load& load = run.loads[static_cast<std::size_t>(run.load[k])];
    m.least[k] = run.leastVolts[k] + raise;
    m.lowestLeast = std::min(m.lowestLeast, m.least[k]);
    const bool asBefore =
        k > 0 && run.load[k] == run.load[k - 1] && m.least[k] == m.least[k - 1] && powerAt.empty();
    const Line line = asBefore ? Line{m.slope[k - 1], m.start[k - 1], true}
                               : lineAbove(load, m.least[k], m.top, powerAt.empty() ? 0.0 : powerAt[k]);
    m.exact = m.exact && line.straight;
    m.slope[k] = line.slope;
    m.start[k] = line.start;
    m.ohms[k] = k == 0 ? 0.0 : run.positiveOhms[k] + run.zeroOhms[k];
    moment += m.ohms[k] * amps;
    along += m.ohms[k];
    const double low = circuit::evaluate(load, m.least[k]).amps, high = circuit::evaluate(load, m.top).amps;
    amps += std::max(0.0, std::min(low, high));
    most += std::max({0.0, low, high});
    m.amps[k] = amps;
    m.most[k] = most;
    m.along[k] = along;
    m.moment[k] = moment;
  }
  boundSupplies(run, m);
  return m;
}

void crossSegment(const FeedModel& model, std::int32_t k, FeedLabel& label) {
  const double r = model.ohms[static_cast<std::size_t>(k)];
  const double grow = 1.0 + r * label.e;
  if (label.least > kNoLeast) label.least = label.least * grow + r * label.j;
  label.e /= grow;
  label.j /= grow;
}

void addLoad(const FeedModel& model, std::int32_t k, FeedLabel& label) {
  const auto i = static_cast<std::size_t>(k);
  label.e += model.slope[i];
  label.j += model.start[i];
  label.least = std::max(label.least, model.least[i]);
}

void addFeed(const FeedModel& model, const FeedOption& option, FeedLabel& label) {
  const double volts = model.supplyVolts[static_cast<std::size_t>(option.supply)];
  const double ohms = option.positiveOhms + option.zeroOhms;
  label.e += 1.0 / ohms;
  label.j -= volts / ohms;
  label.least = std::max(label.least, volts - option.most * model.fuseShare * ohms);
  label.supply = option.supply;
  label.cost += option.cost;
}

bool standsAlone(const FeedLabel& label) {
  return label.supply >= 0 && label.e > 0.0 && -label.j >= label.least * label.e - 1e-10 * label.e;
}

FeedLabel firstLabel(const FeedRun& run, const FeedModel& model, bool usesPort) {
  FeedLabel label;
  label.least = kNoLeast;
  if (usesPort) addFeed(model, run.port, label);
  label.cost = usesPort || !run.hasPort ? 0.0 : std::max(0.0, run.portOffCost);
  return label;
}

FeedLabel afterCut(const FeedModel& model, const FeedLabel& label, std::int32_t k) {
  FeedLabel next;
  if (k > 0)
    for (std::size_t s = 0; s < static_cast<std::size_t>(model.boundedCount); ++s)
      next.given[s] = givenWith(model, label, s, k - 1);
  next.least = kNoLeast;
  next.cost = label.cost;
  next.node = label.node;
  next.from = k;
  return next;
}

bool holdsInModel(const FeedRun& run, const FeedModel& model, const std::vector<std::int32_t>& chosen,
                  bool usesPort) {
  FeedLabel label = firstLabel(run, model, usesPort);
  std::size_t next = 0;
  for (std::int32_t k = 0; k < model.count; ++k) {
    const auto here = [&] {
      return next < chosen.size() && run.options[static_cast<std::size_t>(chosen[next])].place == k;
    };
    if (here() && run.options[static_cast<std::size_t>(chosen[next])].cut && k > 0) {
      if (!standsAlone(label)) return false;
      label = afterCut(model, label, k);
    } else if (k > 0) {
      crossSegment(model, k, label);
    } else if (here() && run.options[static_cast<std::size_t>(chosen[next])].cut) {
      label = afterCut(model, label, k);
    }
    addLoad(model, k, label);
    for (bool first = true; here(); ++next, first = false) {
      const FeedOption& option = run.options[static_cast<std::size_t>(chosen[next])];
      if (!first || !fits(label, option)) return false;  // one feed a place
      addFeed(model, option, label);
    }
    if (!supplyHolds(model, label, k)) return false;
  }
  return standsAlone(label);
}

namespace {

/// Least currents of pixels a..b (none when b < a).
double ampsOf(const FeedModel& m, std::int32_t a, std::int32_t b) {
  if (b < a) return 0.0;
  return m.amps[static_cast<std::size_t>(b)] - (a > 0 ? m.amps[static_cast<std::size_t>(a - 1)] : 0.0);
}

/// Volts lost from pixel p to pixel b on its right while pixels from..b-1 take their least current and b
/// none; from <= p counts what flows off at and after p only.
double dropRight(const FeedModel& m, std::int32_t p, std::int32_t b) {
  if (b <= p) return 0.0;
  const auto i = static_cast<std::size_t>(b), o = static_cast<std::size_t>(p);
  return m.amps[i - 1] * (m.along[i] - m.along[o]) - (m.moment[i] - m.moment[o]);
}

/// Volts lost from pixel p to pixel a on its left while pixels a..p-1 take their least current.
double dropLeft(const FeedModel& m, std::int32_t p, std::int32_t a) {
  if (a >= p) return 0.0;
  const auto i = static_cast<std::size_t>(p), o = static_cast<std::size_t>(a);
  const double before = a > 0 ? m.amps[o - 1] : 0.0;
  return m.moment[i] - m.moment[o] - before * (m.along[i] - m.along[o]);
}

/// Can this option alone feed pixels a..b? `whole`: with b's own current, else without it.
bool feedsZone(const FeedRun& run, const FeedModel& m, const FeedOption& option, std::int32_t a,
               std::int32_t b, double share, bool whole) {
  const std::int32_t p = option.place;
  const double total = ampsOf(m, a, whole ? b : b - 1);
  if (total > option.most * share * (1 + 1e-12)) return false;
  const double volts = run.supplyVolts[static_cast<std::size_t>(option.supply)] -
                       (option.positiveOhms + option.zeroOhms) * total;
  const double extra = whole ? ampsOf(m, b, b) : 0.0;
  const auto span = [&](std::int32_t x, std::int32_t y) {
    return m.along[static_cast<std::size_t>(y)] - m.along[static_cast<std::size_t>(x)];
  };
  double right = 0.0, left = 0.0;
  if (a > p) {
    right = total * span(p, a) + dropRight(m, a, b) + extra * span(a, b);
  } else if (b < p) {
    left = total * span(b, p) + dropLeft(m, b, a);
  } else {
    right = dropRight(m, p, b) + extra * span(p, b);
    left = dropLeft(m, p, a);
  }
  return volts - std::max(left, right) >= m.lowestLeast - 1e-9;
}

/// For each option and first pixel the last pixel it can feed; first - 1: none.
std::vector<std::vector<std::int32_t>> zoneReach(const FeedRun& run, const FeedModel& m, double share,
                                                 bool whole) {
  std::vector<std::vector<std::int32_t>> reach(run.options.size());
  for (std::size_t o = 0; o < run.options.size(); ++o) {
    reach[o].resize(static_cast<std::size_t>(m.count));
    std::int32_t b = -1;
    for (std::int32_t a = 0; a < m.count; ++a) {
      b = std::max(b, a - 1);
      while (b + 1 < m.count && feedsZone(run, m, run.options[o], a, b + 1, share, whole)) ++b;
      reach[o][static_cast<std::size_t>(a)] = b;
    }
  }
  return reach;
}

}  // namespace

std::int32_t reachRight(const FeedModel& m, std::int32_t k, double volts, double ohms, double most) {
  std::int32_t low = k, high = m.count - 1;
  while (low < high) {
    const std::int32_t b = low + (high - low + 1) / 2;
    const double total = ampsOf(m, k + 1, b - 1);
    const double at =
        volts - ohms * total - total * m.ohms[static_cast<std::size_t>(k) + 1] - dropRight(m, k + 1, b);
    if (total <= most * (1 + 1e-12) + 1e-12 && at >= m.lowestLeast - 1e-9)
      low = b;
    else
      high = b - 1;
  }
  return low;
}

ZoneBound zoneBound(const FeedRun& run, const FeedModel& m) {
  const auto reach = zoneReach(run, m, 1.0, false);
  ZoneBound bound;
  const auto n = static_cast<std::size_t>(m.count);
  bound.from.assign(n + 1, kInfinity);
  bound.from[n] = 0.0;
  for (std::size_t k = n; k-- > 0;) {
    for (std::size_t o = 0; o < run.options.size(); ++o) {
      const std::int32_t b = reach[o][k];
      if (b < static_cast<std::int32_t>(k)) continue;
      bound.from[k] =
          std::min(bound.from[k], run.options[o].cost + bound.from[static_cast<std::size_t>(b) + 1]);
    }
    if (bound.from[k] == kInfinity && bound.stuckAt < 0) bound.stuckAt = static_cast<std::int32_t>(k);
  }
  // Feeding from further on never costs more.
  for (std::size_t k = n; k-- > 0;) bound.from[k] = std::max(bound.from[k], bound.from[k + 1]);
  return bound;
}

std::vector<std::int32_t> zonePlan(const FeedRun& run, const FeedModel& m, double share) {
  const auto reach = zoneReach(run, m, share, true);
  const auto n = static_cast<std::size_t>(m.count);
  std::vector<double> cost(n + 1, kInfinity);
  std::vector<std::int32_t> pick(n, -1);
  cost[n] = 0.0;
  for (std::size_t k = n; k-- > 0;)
    for (std::size_t o = 0; o < run.options.size(); ++o) {
      const std::int32_t b = reach[o][k];
      if (b < static_cast<std::int32_t>(k)) continue;
      const double c = run.options[o].cost + cost[static_cast<std::size_t>(b) + 1];
      if (c < cost[k]) {
        cost[k] = c;
        pick[k] = static_cast<std::int32_t>(o);
      }
    }
  // The port's own zone comes first, as far as it reaches.
  std::size_t k = 0;
  if (run.hasPort)
    while (k < n && feedsZone(run, m, run.port, 0, static_cast<std::int32_t>(k), share, true)) ++k;
  std::vector<std::int32_t> chosen;
  while (k < n && pick[k] >= 0) {
    chosen.push_back(pick[k]);
    k = static_cast<std::size_t>(reach[static_cast<std::size_t>(pick[k])][k]) + 1;
  }
  std::sort(chosen.begin(), chosen.end(), [&](std::int32_t x, std::int32_t y) {
    return run.options[static_cast<std::size_t>(x)].place < run.options[static_cast<std::size_t>(y)].place;
  });
  return chosen;
}

}  // namespace yw::propose
