#include "core/circuit/margin_study.h"

#include <algorithm>
#include <boost/random/sobol.hpp>
#include <cmath>

#include "core/circuit/normal.h"

namespace yw::circuit {

namespace {

constexpr int kMostSteps = 6;         ///< towards the most likely point of failure
constexpr double kNearEnough = 1e-3;  ///< standard deviations
/// Beyond that many standard deviations (a chance of 3 in 100,000) the first order stands as it is.
constexpr double kWorthLines = 4.0;
constexpr std::size_t kLines = 32;  ///< 2^5: the cells of a Sobol net
constexpr double kFarthest = 8.0;

double dot(const std::vector<double>& a, const std::vector<double>& b) {
  double sum = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i) sum += a[i] * b[i];
  return sum;
}

/// One joined part: shared unknowns u (independent, standard normal), then pixels' and contacts' own.
class PartMargins {
 public:
  PartMargins(const yard::Yard& yard, const Layouts& layouts, const UncertainYard& uncertain,
              const JoinedPart& part, const Belief& belief, Margins& out)
      : uncertain_(uncertain), part_(part), out_(out), shared_(part.unknowns.size()) {
    root_ = choleskyOf(covariance(belief), shared_);
    limits(yard, layouts);
    planned_ = state(std::vector<double>(shared_ + 2, 0.0));
  }

  void all(const std::atomic<bool>& stop) {
    for (std::size_t chain = 0; chain < part_.runs.size(); ++chain) {
      if (stop) return;
      run(chain);
    }
  }

 private:
  struct State {
    Network network;
    Solution solution;
    std::vector<double> z;
  };
  struct Edge {
    double headroom;  ///< V: least of volts less limit
    std::size_t pixel;
  };

  std::vector<double> covariance(const Belief& belief) const {
    std::vector<double> c(shared_ * shared_, 0.0);
    std::vector<std::ptrdiff_t> place(shared_, -1);
    for (std::size_t i = 0; i < shared_; ++i) {
      const Unknown& u = uncertain_.unknowns[part_.unknowns[i]];
      const auto at = std::lower_bound(belief.unknowns.begin(), belief.unknowns.end(), u);
      if (at != belief.unknowns.end() && *at == u) place[i] = at - belief.unknowns.begin();
      c[i * shared_ + i] = 1.0;
    }
    for (std::size_t i = 0; i < shared_; ++i)
      for (std::size_t j = 0; j < shared_; ++j)
        if (place[i] >= 0 && place[j] >= 0)
          c[i * shared_ + j] = belief.covariance[static_cast<std::size_t>(place[i]) * belief.unknowns.size() +
                                                 static_cast<std::size_t>(place[j])];
    return c;
  }

  void limits(const yard::Yard& yard, const Layouts& layouts) {
    for (const Id run : part_.runs) {
      std::vector<double>& of = limit_.emplace_back();
      Id last;
      double volts = 0.0;
      for (const RunPixel& pixel : layouts.at(run)->pixels) {
        if (pixel.prop && pixel.prop != last) {
          last = pixel.prop;
          const auto* product = yard::productOf(yard, *yard::find<yard::Prop>(yard, last));
          volts = product != nullptr ? base::volts(product->lowestVolts).si : 0.0;
        }
        of.push_back(pixel.prop ? volts : 0.0);
      }
    }
  }

  State state(const std::vector<double>& u) {
    State s;
    s.z.assign(uncertain_.unknowns.size(), 0.0);
    for (std::size_t i = 0; i < shared_; ++i)
      for (std::size_t j = 0; j <= i; ++j) s.z[part_.unknowns[i]] += root_[i * shared_ + j] * u[j];
    s.network = uncertain_.at(part_, s.z);
    s.solution = solve(s.network);
    ++out_.solves;
    return s;
  }

  /// The fed pixel of a prop with the least headroom.
  Edge edge(const Solution& solution, std::size_t chain) const {
    Edge least{1e9, solution.volts[chain].size()};
    for (std::size_t k = 0; k < solution.volts[chain].size(); ++k) {
      if (limit_[chain][k] <= 0.0 || solution.fed[chain][k] == 0) continue;
      const double headroom = solution.volts[chain][k] - limit_[chain][k];
      if (headroom < least.headroom) least = {headroom, k};
    }
    return least;
  }

  /// Slope of the headroom at that pixel in u, own differences last.
  std::vector<double> slope(const State& s, std::size_t chain, std::size_t pixel) {
    const Sensitivity of = sensitivity(uncertain_, part_, s.z, s.network, s.solution, chain, pixel);
    ++out_.solves;
    std::vector<double> in(shared_ + 2, 0.0);
    for (std::size_t i = 0; i < shared_; ++i)
      for (std::size_t j = 0; j <= i; ++j) in[j] += root_[i * shared_ + j] * of.slope[i];
    in[shared_] = of.eachPixel;
    in[shared_ + 1] = of.eachJoint;
    last_ = of;
    return in;
  }

  /// Headroom with the own differences as first order says.
  double headroomAt(const std::vector<double>& u, std::size_t chain, const std::vector<double>& slope) {
    return edge(state(u).solution, chain).headroom + slope[shared_] * u[shared_] +
           slope[shared_ + 1] * u[shared_ + 1];
  }

  void run(std::size_t chain) {
    const Edge here = edge(planned_.solution, chain);
    if (here.pixel == limit_[chain].size() ||
        planned_.solution.chainStates[chain].state == Solution::State::NoOperatingPoint)
      return;
    RunMargin& m = out_.runs[part_.runs[chain]];
    m.place = static_cast<std::int64_t>(here.pixel) + 1;
    m.limit = limit_[chain][here.pixel];
    m.volts = here.headroom + m.limit;
    std::vector<double> direction = slope(planned_, chain, here.pixel);
    m.deviation = std::sqrt(dot(direction, direction));
    shares(m, direction);
    if (m.deviation < 1e-12) {  // nothing is uncertain
      m.likely = m.volts;
      m.chance = here.headroom < 0.0 ? 1.0 : 0.0;
      return;
    }
    m.likely = m.limit + quantile(chain, direction, m.deviation);
    m.chance = chance(chain, here.headroom, std::move(direction));
  }

  /// Where the volts are 95 times in 100 above: the true figure at that point of the first-order direction
  /// (the advanced mean value method: Wu, Millwater and Cruse, 1990).
  double quantile(std::size_t chain, const std::vector<double>& slope, double length) {
    std::vector<double> u = slope;
    for (double& x : u) x *= -kNormalLikely / length;
    return headroomAt(u, chain, slope);
  }

  void shares(RunMargin& m, const std::vector<double>& slope) const {
    const double variance = dot(slope, slope);
    if (variance <= 0.0) return;
    for (std::size_t i = 0; i < shared_; ++i) {
      double with = 0.0;  // covariance of z_i with the headroom
      for (std::size_t j = 0; j <= i; ++j) with += root_[i * shared_ + j] * slope[j];
      m.shares.push_back({uncertain_.unknowns[part_.unknowns[i]], last_.slope[i] * with / variance});
    }
    m.shares.push_back({{UnknownKind::EachPixel, {}}, slope[shared_] * slope[shared_] / variance});
    m.shares.push_back({{UnknownKind::EachJoint, {}}, slope[shared_ + 1] * slope[shared_ + 1] / variance});
    std::stable_sort(m.shares.begin(), m.shares.end(),
                     [](const auto& a, const auto& b) { return a.share > b.share; });
  }

  double chance(std::size_t chain, double headroom, std::vector<double> slope) {
    double length = std::sqrt(dot(slope, slope)), beta = headroom / length;
    if (std::abs(beta) > kFarthest) return normalBelow(-beta);
    std::vector<double> u(shared_ + 2, 0.0);
    for (int step = 0; step < kMostSteps; ++step) {
      // The nearest point of the tangent plane.
      const double along = (dot(slope, u) - headroom) / (length * length);
      double moved = 0.0;
      for (std::size_t i = 0; i < u.size(); ++i) {
        const double next = along * slope[i];
        moved = std::max(moved, std::abs(next - u[i]));
        u[i] = next;
      }
      beta = std::copysign(std::sqrt(dot(u, u)), -along);
      if (std::abs(beta) > kFarthest || moved < kNearEnough) break;
      const State s = state(u);
      const Edge at = edge(s.solution, chain);
      if (at.pixel == limit_[chain].size()) break;
      headroom = at.headroom + slope[shared_] * u[shared_] + slope[shared_ + 1] * u[shared_ + 1];
      const std::vector<double> next = this->slope(s, chain, at.pixel);
      const double nextLength = std::sqrt(dot(next, next));
      if (nextLength < 1e-12) break;
      slope = next;
      length = nextLength;
    }
    if (std::abs(beta) > kWorthLines) return normalBelow(-beta);
    return lines(chain, slope, length, beta);
  }

  double lines(std::size_t chain, const std::vector<double>& slope, double length, double beta) {
    std::vector<double> towards = slope;  // failure
    for (double& x : towards) x /= -length;
    const std::size_t n = towards.size();
    boost::random::sobol points(n);
    double sum = 0.0;
    for (std::size_t line = 0; line < kLines; ++line) {
      std::vector<double> u(n);
      for (double& x : u) {
        // In the middle of its cell. The generator leaves out the net's first point, nought.
        const auto cell = line == 0 ? 0U : static_cast<std::uint64_t>(points()) >> 59U;
        x = normalQuantile((static_cast<double>(cell) + 0.5) / kLines);
      }
      const double off = dot(u, towards);
      for (std::size_t i = 0; i < n; ++i) u[i] -= off * towards[i];
      sum += normalBelow(-edgeOnLine(chain, u, towards, slope, length, beta));
    }
    return sum / kLines;
  }

  /// Distance along the line at which the headroom is gone: Illinois' false position between kept bounds.
  double edgeOnLine(std::size_t chain, const std::vector<double>& from, const std::vector<double>& towards,
                    const std::vector<double>& slope, double length, double guess) {
    const auto headroom = [&](double along) {
      std::vector<double> u = from;
      for (std::size_t i = 0; i < u.size(); ++i) u[i] += along * towards[i];
      return headroomAt(u, chain, slope);
    };
    double a = guess, fa = headroom(a);
    if (std::abs(fa) < kNearEnough * length) return a + fa / length;
    double b = std::clamp(a + 1.2 * fa / length, -kFarthest, kFarthest), fb = headroom(b);
    for (int i = 0; i < 6 && (fa > 0.0) == (fb > 0.0); ++i) {
      if (std::abs(b) >= kFarthest) return b;
      const double next = std::clamp(b + 2.0 * (b - a), -kFarthest, kFarthest);
      a = b;
      fa = fb;
      b = next;
      fb = headroom(b);
    }
    if ((fa > 0.0) == (fb > 0.0)) return b;
    for (int i = 0; i < 30 && std::abs(b - a) > kNearEnough; ++i) {
      const double c = b - fb * (b - a) / (fb - fa), fc = headroom(c);
      if (std::abs(fc) < 1e-4 * length) return c;
      if ((fc > 0.0) != (fb > 0.0)) {
        a = b;
        fa = fb;
      } else {
        fa *= 0.5;
      }
      b = c;
      fb = fc;
    }
    return b;
  }

  static constexpr double kNormalLikely = 1.6448536269514722;  ///< normalQuantile(kLikely)
  const UncertainYard& uncertain_;
  const JoinedPart& part_;
  Margins& out_;
  std::size_t shared_;
  std::vector<double> root_;
  std::vector<std::vector<double>> limit_;  ///< [chain][pixel], V; 0: none
  State planned_;
  Sensitivity last_;
};

}  // namespace

std::vector<double> choleskyOf(std::vector<double> m, std::size_t n) {
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = 0; j < n; ++j) {
      if (j > i) {
        m[i * n + j] = 0.0;
        continue;
      }
      double sum = m[i * n + j];
      for (std::size_t k = 0; k < j; ++k) sum -= m[i * n + k] * m[j * n + k];
      const double pivot = m[j * n + j];
      m[i * n + j] = i == j ? std::sqrt(std::max(0.0, sum)) : (pivot > 0.0 ? sum / pivot : 0.0);
    }
  return m;
}

Margins marginsUnless(const std::atomic<bool>& stop, const yard::Yard& yard, const Shapes& shapes,
                      const Routes& routes, const Layouts& layouts, const Belief& belief) {
  Margins out;
  const UncertainYard all = uncertain(yard, shapes, routes, layouts);
  for (const JoinedPart& part : all.parts) {
    if (stop) break;
    PartMargins(yard, layouts, all, part, belief, out).all(stop);
  }
  return out;
}

Margins margins(const yard::Yard& yard, const Shapes& shapes, const Routes& routes, const Layouts& layouts,
                const Belief& belief) {
  return marginsUnless(std::atomic<bool>{false}, yard, shapes, routes, layouts, belief);
}

}  // namespace yw::circuit
