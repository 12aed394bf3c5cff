#include "core/propose/site_plan.h"

#include <algorithm>
#include <limits>

namespace yw::propose {

namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr double kSame = 1e-9;
using Places = std::vector<std::int32_t>;

double leadTo(const SiteJob& job, std::size_t demand, std::size_t place) {
  return std::min(job.lead[demand][place], kOutOfReach);
}

bool apart(const SiteJob& job, const Places& at) {
  for (std::size_t b = 0; b < at.size(); ++b)
    for (std::size_t c = 0; c < b; ++c)
      if (at[b] == at[c] || job.tooNear[static_cast<std::size_t>(at[b])][static_cast<std::size_t>(at[c])])
        return false;
  return true;
}

/// The multipliers of a Lagrangian relaxation: each demand of any box has a price, a box at a place serves it
/// for less or leaves it, and boxes may share a place. For any prices the sum below is a lower bound.
class Relaxed {
 public:
  Relaxed(const SiteJob& job, const Places& start) : job_(job), start_(start) {
    const std::size_t places = job.tooNear.size();
    own_ = job.boxCost;
    for (std::size_t d = 0; d < job.demands.size(); ++d) {
      const std::int32_t box = job.demands[d].box;
      if (box < 0) {
        any_.push_back(d);
        prices_.push_back(kOutOfReach);
        for (std::size_t p = 0; p < places; ++p) prices_.back() = std::min(prices_.back(), leadTo(job, d, p));
        continue;
      }
      for (std::size_t p = 0; p < places; ++p) own_[static_cast<std::size_t>(box)][p] += leadTo(job, d, p);
    }
    best_ = prices_;
  }

  /// Rounds of subgradient steps; `visit` is told the places of each. The best bound of all rounds.
  template <class Visit>
  double bound(double known, Visit&& visit) {
    constexpr int kRounds = 400, kPatience = 20;
    double best = -kInfinity, step = 1.0;
    int since = 0;
    for (int round = 0; round < kRounds; ++round) {
      const double value = evaluate();
      visit(at_);
      if (value > best + kSame) {
        best = value;
        best_ = prices_;
        since = 0;
      } else if (++since == kPatience) {
        step /= 2;
        since = 0;
        prices_ = best_;
        continue;
      }
      double length = 0.0;
      for (const double s : slope_) length += s * s;
      if (length < kSame || known - best < kSame) break;
      for (std::size_t i = 0; i < any_.size(); ++i)
        prices_[i] = std::clamp(prices_[i] + step * (known - value) / length * slope_[i], 0.0, kOutOfReach);
    }
    return best;
  }

 private:
  double evaluate() {
    const std::size_t places = job_.tooNear.size();
    std::vector<double> gain(places, 0.0);
    double value = 0.0;
    for (std::size_t i = 0; i < any_.size(); ++i) {
      value += prices_[i];
      for (std::size_t p = 0; p < places; ++p)
        gain[p] += std::min(0.0, leadTo(job_, any_[i], p) - prices_[i]);
    }
    at_ = start_;
    for (std::size_t b = 0; b < at_.size(); ++b) {
      const auto cost = [&](std::size_t p) { return own_[b][p] + gain[p]; };
      auto place = static_cast<std::size_t>(start_[b]);
      for (std::size_t p = 0; p < places && job_.mayMove[b]; ++p)
        if (cost(p) < cost(place)) place = p;
      at_[b] = static_cast<std::int32_t>(place);
      value += cost(place);
    }
    slope_.assign(any_.size(), 1.0);
    for (std::size_t i = 0; i < any_.size(); ++i)
      for (const std::int32_t p : at_)
        if (leadTo(job_, any_[i], static_cast<std::size_t>(p)) < prices_[i]) slope_[i] -= 1.0;
    return value;
  }

  const SiteJob& job_;
  const Places& start_;
  std::vector<std::vector<double>> own_;  ///< [box][place]: cords and the leads that only it can have
  std::vector<std::size_t> any_;          ///< demands that any box may serve
  std::vector<double> prices_, best_, slope_;
  Places at_;
};

/// One box to another place or two boxes exchanged while that is cheaper.
void better(const SiteJob& job, SitePlan& plan) {
  const auto attempt = [&](Places at) {
    if (!apart(job, at)) return false;
    const double cost = sitesCost(job, at);
    if (cost >= plan.cost - kSame) return false;
    plan.at = std::move(at);
    plan.cost = cost;
    return true;
  };
  bool again = true;
  constexpr int kMostRounds = 40;
  for (int round = 0; again && round < kMostRounds; ++round) {
    again = false;
    for (std::size_t b = 0; b < plan.at.size(); ++b)
      for (std::size_t p = 0; p < job.tooNear.size() && job.mayMove[b]; ++p) {
        Places at = plan.at;
        at[b] = static_cast<std::int32_t>(p);
        again = attempt(std::move(at)) || again;
      }
    for (std::size_t b = 0; b < plan.at.size(); ++b)
      for (std::size_t c = 0; c < b; ++c) {
        if (!job.mayMove[b] || !job.mayMove[c]) continue;
        Places at = plan.at;
        std::swap(at[b], at[c]);
        again = attempt(std::move(at)) || again;
      }
  }
}

/// Every choice of places where they are at most `most`: false, and nothing done, where they are more.
bool tryAll(const SiteJob& job, std::size_t most, SitePlan& plan) {
  std::size_t choices = 1;
  for (std::size_t b = 0; b < plan.at.size(); ++b)
    if (job.mayMove[b] && (choices *= job.tooNear.size()) > most) return false;
  Places at = plan.at;
  const auto walk = [&](const auto& self, std::size_t b) -> void {
    if (b == at.size()) {
      if (!apart(job, at)) return;
      const double cost = sitesCost(job, at);
      if (cost < plan.cost - kSame) plan.cost = cost, plan.at = at;
      return;
    }
    const std::int32_t was = at[b];
    self(self, b + 1);
    for (std::size_t p = 0; p < job.tooNear.size() && job.mayMove[b]; ++p) {
      at[b] = static_cast<std::int32_t>(p);
      if (at[b] != was) self(self, b + 1);
    }
    at[b] = was;
  };
  walk(walk, 0);
  return true;
}

}  // namespace

double sitesCost(const SiteJob& job, const std::vector<std::int32_t>& at) {
  double cost = 0.0;
  for (std::size_t b = 0; b < at.size(); ++b) cost += job.boxCost[b][static_cast<std::size_t>(at[b])];
  for (std::size_t d = 0; d < job.demands.size(); ++d) {
    const std::int32_t box = job.demands[d].box;
    double least = kOutOfReach;
    for (std::size_t b = 0; b < at.size(); ++b)
      if (box < 0 || box == static_cast<std::int32_t>(b))
        least = std::min(least, leadTo(job, d, static_cast<std::size_t>(at[b])));
    cost += least;
  }
  return cost;
}

SitePlan planSites(const SiteJob& job, const std::vector<std::int32_t>& start) {
  constexpr std::size_t kMostChoices = 10'000;
  SitePlan plan;
  plan.at = start;
  plan.cost = sitesCost(job, start);
  better(job, plan);
  if (tryAll(job, kMostChoices, plan)) {
    plan.bound = plan.cost;
    return plan;
  }
  SitePlan other = plan;
  other.cost = kInfinity;
  plan.bound = Relaxed(job, start).bound(plan.cost, [&](const Places& at) {
    if (!apart(job, at)) return;
    if (const double cost = sitesCost(job, at); cost < other.cost) other.cost = cost, other.at = at;
  });
  if (other.cost < kInfinity) better(job, other);
  if (other.cost < plan.cost - kSame) plan.cost = other.cost, plan.at = other.at;
  plan.bound = std::min(plan.bound, plan.cost);
  return plan;
}

}  // namespace yw::propose
