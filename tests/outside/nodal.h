#pragma once
// The whole network's node equations without any of the solver's reductions: the check that needs no other
// program.
#include <Eigen/Sparse>
#include <cmath>
#include <numeric>
#include <vector>

#include "core/circuit/network.h"

namespace yw::checks {

/// One Newton step of every node and every joint without resistance, from the solver's answer: the largest
/// change of any fed pixel's volts. Infinite if the equations cannot be solved.
class NodalStep {
 public:
  explicit NodalStep(const circuit::Network& network) : n_(network) {
    nodes_ = n_.extraNodes + static_cast<int>(2 * n_.pixelCount());
    group_.resize(nodes_);
    std::iota(group_.begin(), group_.end(), 0);
  }

  double change(const circuit::Solution& s) {
    metal();
    int node = n_.extraNodes;
    for (std::size_t c = 0; c < n_.chains.size(); ++c)
      for (std::size_t k = 0; k < n_.chains[c].load.size(); ++k, node += 2) {
        if (!s.fed[c][k]) continue;
        const auto p = circuit::evaluate(n_.loads[n_.chains[c].load[k]], s.volts[c][k]);
        conductance(node, node + 1, p.slope);
        current(node, node + 1, p.amps - p.slope * s.volts[c][k]);
      }
    return worst(s);
  }

 private:
  int root(int n) {
    while (group_[n] != n) n = group_[n] = group_[group_[n]];
    return n;
  }
  void conductance(int a, int b, double g) {
    places_.emplace_back(a, a, g);
    places_.emplace_back(b, b, g);
    places_.emplace_back(a, b, -g);
    places_.emplace_back(b, a, -g);
  }
  void current(int a, int b, double amps) { drawn_.push_back({a, b, amps}); }
  /// V(a) - V(b) = volts, with an unknown current.
  void tie(int a, int b, double volts) { ties_.push_back({a, b, volts}); }
  void rail(int a, int b, double ohms) {
    if (!std::isfinite(ohms)) return;
    if (ohms > 0.0)
      conductance(a, b, 1.0 / ohms);
    else if (root(a) != root(b))
      tie(a, b, 0.0);
    group_[root(a)] = root(b);
  }

  void metal() {
    // Joints without resistance first, so that none is left out as closing a loop that resistances close.
    for (const bool bare : {true, false}) {
      for (const auto& c : n_.conductors)
        if ((c.ohms <= 0.0) == bare) rail(c.a, c.b, c.ohms);
      int node = n_.extraNodes;
      for (const auto& chain : n_.chains)
        for (std::size_t k = 0; k < chain.load.size(); ++k, node += 2) {
          if (k == 0) continue;
          if ((chain.positive[k] <= 0.0) == bare) rail(node - 2, node, chain.positive[k]);
          if ((chain.zero[k] <= 0.0) == bare) rail(node - 1, node + 1, chain.zero[k]);
        }
    }
    for (const auto& source : n_.sources) {
      if (source.ohms > 0.0) {
        conductance(source.positive, source.zero, 1.0 / source.ohms);
        current(source.positive, source.zero, -source.volts / source.ohms);
      } else {
        tie(source.positive, source.zero, source.volts);
      }
      group_[root(source.positive)] = root(source.zero);
    }
  }

  double worst(const circuit::Solution& s) {
    const int unknowns = nodes_ + static_cast<int>(ties_.size());
    Eigen::VectorXd right = Eigen::VectorXd::Zero(unknowns);
    for (const auto& d : drawn_) {
      right[d.a] -= d.value;
      right[d.b] += d.value;
    }
    for (std::size_t t = 0; t < ties_.size(); ++t) {
      const int row = nodes_ + static_cast<int>(t);
      places_.emplace_back(row, ties_[t].a, 1.0);
      places_.emplace_back(row, ties_[t].b, -1.0);
      places_.emplace_back(ties_[t].a, row, 1.0);
      places_.emplace_back(ties_[t].b, row, -1.0);
      right[row] = ties_[t].value;
    }
    for (int n = 0; n < nodes_; ++n)
      if (root(n) == n) places_.emplace_back(n, n, 1.0);  // one node of every group near 0 V
    Eigen::SparseMatrix<double> matrix(unknowns, unknowns);
    matrix.setFromTriplets(places_.begin(), places_.end());
    Eigen::SparseLU<Eigen::SparseMatrix<double>> lu(matrix);
    if (lu.info() != Eigen::Success) return INFINITY;
    Eigen::VectorXd volts = lu.solve(right);
    volts += lu.solve(Eigen::VectorXd(right - matrix * volts));
    double most = 0.0;
    int node = n_.extraNodes;
    for (std::size_t c = 0; c < n_.chains.size(); ++c)
      for (std::size_t k = 0; k < n_.chains[c].load.size(); ++k, node += 2)
        if (s.fed[c][k]) most = std::fmax(most, std::abs(volts[node] - volts[node + 1] - s.volts[c][k]));
    return most;
  }

  struct Two {
    int a, b;
    double value;
  };
  const circuit::Network& n_;
  int nodes_ = 0;
  std::vector<int> group_;
  std::vector<Eigen::Triplet<double>> places_;
  std::vector<Two> drawn_, ties_;
};

}  // namespace yw::checks
