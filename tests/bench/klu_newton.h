#pragma once
// The way a general circuit program would go: Newton's steps on the node equations of both rails, factored by
// SuiteSparse KLU (which is made for circuit matrices).
#include <klu.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <map>
#include <numeric>
#include <vector>

#include "core/circuit/network.h"

namespace yw::checks {

class KluNewton {
 public:
  explicit KluNewton(const circuit::Network& network) : n_(network) {
    klu_defaults(&common_);
    join();
    lay();
    symbolic_ = klu_analyze(size_, start_.data(), row_.data(), &common_);
  }
  ~KluNewton() {
    klu_free_numeric(&numeric_, &common_);
    klu_free_symbolic(&symbolic_, &common_);
  }
  KluNewton(const KluNewton&) = delete;
  KluNewton& operator=(const KluNewton&) = delete;

  struct Run {
    int steps = 0;
    bool arrived = false;
    double seconds = 0.0;
  };
  /// From nominal volts until no pixel moves by 1 nV; the clock counts only numbers, not the layout. As for
  /// any first solve, the first step chooses its pivots and the later ones keep them.
  Run solve() {
    Run run;
    klu_free_numeric(&numeric_, &common_);
    std::fill(volts_.begin(), volts_.end(), 12.0);
    const auto from = std::chrono::steady_clock::now();
    for (; run.steps < 60 && !run.arrived; ++run.steps) run.arrived = step() < 1e-9;
    run.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - from).count();
    return run;
  }
  const std::vector<double>& volts() const { return volts_; }  ///< across every pixel

 private:
  int root(int n) {
    while (group_[n] != n) n = group_[n] = group_[group_[n]];
    return n;
  }
  void join() {
    group_.resize(static_cast<std::size_t>(n_.extraNodes + 2 * n_.pixelCount()));
    std::iota(group_.begin(), group_.end(), 0);
    for (const auto& c : n_.conductors)
      if (c.ohms <= 0.0) group_[root(c.a)] = root(c.b);
    number_.assign(group_.size(), -1);
    for (int i = 0; i < static_cast<int>(group_.size()); ++i) {
      int& number = number_[root(i)];
      if (number < 0) number = size_++;
    }
    for (int i = 0; i < static_cast<int>(group_.size()); ++i) number_[i] = number_[root(i)];
  }

  void conductance(int a, int b, double g) {
    const int i = number_[a], j = number_[b];
    if (i == j) return;
    metal_[{i, i}] += g;
    metal_[{j, j}] += g;
    metal_[{i, j}] -= g;
    metal_[{j, i}] -= g;
  }
  void lay() {
    right_.assign(size_, 0.0);
    for (const auto& c : n_.conductors)
      if (c.ohms > 0.0 && std::isfinite(c.ohms)) conductance(c.a, c.b, 1.0 / c.ohms);
    int node = n_.extraNodes;
    for (const auto& chain : n_.chains)
      for (std::size_t k = 0; k < chain.load.size(); ++k, node += 2) {
        pixels_.push_back({number_[node], number_[node + 1], chain.load[k], {}});
        conductance(node, node + 1, 0.0);
        if (k == 0) continue;
        if (std::isfinite(chain.positive[k])) conductance(node - 2, node, 1.0 / chain.positive[k]);
        if (std::isfinite(chain.zero[k])) conductance(node - 1, node + 1, 1.0 / chain.zero[k]);
      }
    for (const auto& s : n_.sources) {
      conductance(s.positive, s.zero, 1.0 / s.ohms);
      right_[number_[s.positive]] += s.volts / s.ohms;
      right_[number_[s.zero]] -= s.volts / s.ohms;
    }
    metal_[{number_[n_.sources[0].zero], number_[n_.sources[0].zero]}] += 1.0;  // the reference
    std::map<std::pair<int, int>, int> slot;
    start_.assign(1, 0);
    std::vector<std::vector<std::pair<int, double>>> columns(size_);
    for (const auto& [at, g] : metal_) columns[at.second].emplace_back(at.first, g);
    for (int c = 0; c < size_; ++c) {
      for (const auto& [r, g] : columns[c]) {
        slot[{r, c}] = static_cast<int>(row_.size());
        row_.push_back(r);
        fixed_.push_back(g);
      }
      start_.push_back(static_cast<int>(row_.size()));
    }
    for (Pixel& p : pixels_) {
      p.slot[0] = slot[{p.positive, p.positive}];
      p.slot[1] = slot[{p.zero, p.zero}];
      p.slot[2] = slot[{p.positive, p.zero}];
      p.slot[3] = slot[{p.zero, p.positive}];
    }
    volts_.assign(pixels_.size(), 0.0);
    metal_.clear();
  }

  double step() {
    values_ = fixed_;
    answer_ = right_;
    for (std::size_t i = 0; i < pixels_.size(); ++i) {
      const Pixel& p = pixels_[i];
      const auto load = circuit::evaluate(n_.loads[p.load], volts_[i]);
      values_[p.slot[0]] += load.slope;
      values_[p.slot[1]] += load.slope;
      values_[p.slot[2]] -= load.slope;
      values_[p.slot[3]] -= load.slope;
      const double amps = load.amps - load.slope * volts_[i];
      answer_[p.positive] -= amps;
      answer_[p.zero] += amps;
    }
    if (numeric_ == nullptr)
      numeric_ = klu_factor(start_.data(), row_.data(), values_.data(), symbolic_, &common_);
    else
      klu_refactor(start_.data(), row_.data(), values_.data(), symbolic_, numeric_, &common_);
    klu_solve(symbolic_, numeric_, size_, 1, answer_.data(), &common_);
    double most = 0.0;
    for (std::size_t i = 0; i < pixels_.size(); ++i) {
      const double v = answer_[pixels_[i].positive] - answer_[pixels_[i].zero];
      most = std::max(most, std::abs(v - volts_[i]));
      volts_[i] = v;
    }
    return most;
  }

  struct Pixel {
    int positive, zero;
    std::int32_t load;
    int slot[4];
  };
  const circuit::Network& n_;
  klu_common common_{};
  klu_symbolic* symbolic_ = nullptr;
  klu_numeric* numeric_ = nullptr;
  int size_ = 0;
  std::vector<int> group_, number_, start_, row_;
  std::map<std::pair<int, int>, double> metal_;
  std::vector<Pixel> pixels_;
  std::vector<double> fixed_, values_, right_, answer_, volts_;
};

}  // namespace yw::checks
