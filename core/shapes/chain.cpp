#include "core/shapes/chain.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

using Order = std::vector<std::size_t>;

constexpr std::int64_t kTooLong = 1'000'000'000'000'000;  // one hop out of reach outweighs any length

class Chain {
 public:
  Chain(const std::vector<Vec3>& points, double reach) : points_(points), reach_(reach) {}

  std::int64_t hop(std::size_t a, std::size_t b) const {
    const double metres = base::distance(points_[a], points_[b]);
    const bool tooLong = reach_ > 0 && metres > reach_ + 1e-9;
    return std::llround(metres * 1e6) + (tooLong ? kTooLong : 0);
  }
  std::size_t size() const { return points_.size(); }

  Order exact() const;
  Order nearest() const;
  void better(Order& order) const;

 private:
  bool turnPiecesRound(Order& order) const;
  bool movePieces(Order& order) const;
  /// From place i to i + 1; nothing after the last.
  std::int64_t step(const Order& order, std::size_t i) const {
    return i + 1 < order.size() ? hop(order[i], order[i + 1]) : 0;
  }

  const std::vector<Vec3>& points_;
  double reach_;
};

/// Held and Karp: the cheapest way to have been at a set of points and stand at one of them.
Order Chain::exact() const {
  const std::size_t n = size(), sets = std::size_t{1} << n;
  constexpr std::int64_t kNever = std::numeric_limits<std::int64_t>::max() / 2;
  std::vector<std::int64_t> cost(sets * n, kNever);
  std::vector<std::size_t> before(sets * n, 0);
  cost[1 * n + 0] = 0;
  for (std::size_t set = 1; set < sets; set += 2)
    for (std::size_t at = 0; at < n; ++at) {
      const std::int64_t sofar = cost[set * n + at];
      if (sofar == kNever) continue;
      for (std::size_t to = 1; to < n; ++to) {
        if (set >> to & 1U) continue;
        const std::size_t next = (set | std::size_t{1} << to) * n + to;
        if (sofar + hop(at, to) >= cost[next]) continue;
        cost[next] = sofar + hop(at, to);
        before[next] = at;
      }
    }
  const std::size_t all = sets - 1;
  std::size_t at = 0;
  for (std::size_t k = 1; k < n; ++k)
    if (at == 0 || cost[all * n + k] < cost[all * n + at]) at = k;
  Order order;
  for (std::size_t set = all; order.size() < n;) {
    order.push_back(at);
    const std::size_t from = before[set * n + at];
    set &= ~(std::size_t{1} << at);
    at = from;
  }
  std::reverse(order.begin(), order.end());
  return order;
}

Order Chain::nearest() const {
  Order order = {0};
  std::vector<char> taken(size(), 0);
  taken[0] = 1;
  while (order.size() < size()) {
    std::size_t best = 0;
    std::int64_t least = std::numeric_limits<std::int64_t>::max();
    for (std::size_t k = 1; k < size(); ++k)
      if (!taken[k] && hop(order.back(), k) < least) least = hop(order.back(), best = k);
    taken[best] = 1;
    order.push_back(best);
  }
  return order;
}

/// Turns the piece i + 1 .. j round wherever that is cheaper.
bool Chain::turnPiecesRound(Order& order) const {
  bool any = false;
  const std::size_t n = order.size();
  for (std::size_t i = 0; i + 2 < n; ++i)
    for (std::size_t j = i + 2; j < n; ++j) {
      const std::int64_t now = step(order, i) + step(order, j);
      const std::int64_t then =
          hop(order[i], order[j]) + (j + 1 < n ? hop(order[i + 1], order[j + 1]) : std::int64_t{0});
      if (then >= now) continue;
      std::reverse(order.begin() + static_cast<std::ptrdiff_t>(i) + 1,
                   order.begin() + static_cast<std::ptrdiff_t>(j) + 1);
      any = true;
    }
  return any;
}

/// Moves pieces of one to three points to where they cost less, as they are or turned round.
bool Chain::movePieces(Order& order) const {
  bool any = false;
  const std::size_t n = order.size();
  for (std::size_t length = 1; length <= 3; ++length)
    for (std::size_t i = 1; i + length <= n; ++i) {
      const std::size_t first = order[i], last = order[i + length - 1];
      const bool atEnd = i + length == n;
      const std::int64_t gain = hop(order[i - 1], first) + (atEnd ? 0 : hop(last, order[i + length])) -
                                (atEnd ? 0 : hop(order[i - 1], order[i + length]));
      std::int64_t best = 0;
      std::size_t bestAt = 0;
      bool bestTurned = false;
      for (std::size_t j = 0; j < n; ++j) {  // between the points at j and j + 1
        if (j + 1 >= i && j < i + length) continue;
        const bool after = j + 1 == n;
        for (const bool turned : {false, true}) {
          const std::size_t head = turned ? last : first, tail = turned ? first : last;
          const std::int64_t cost =
              hop(order[j], head) + (after ? 0 : hop(tail, order[j + 1]) - hop(order[j], order[j + 1]));
          if (gain - cost <= best) continue;
          best = gain - cost;
          bestAt = j;
          bestTurned = turned;
        }
      }
      if (best == 0) continue;
      Order piece(order.begin() + static_cast<std::ptrdiff_t>(i),
                  order.begin() + static_cast<std::ptrdiff_t>(i + length));
      if (bestTurned) std::reverse(piece.begin(), piece.end());
      order.erase(order.begin() + static_cast<std::ptrdiff_t>(i),
                  order.begin() + static_cast<std::ptrdiff_t>(i + length));
      const std::size_t at = bestAt < i ? bestAt + 1 : bestAt + 1 - length;
      order.insert(order.begin() + static_cast<std::ptrdiff_t>(at), piece.begin(), piece.end());
      any = true;
    }
  return any;
}

/// Every change makes it cheaper by a whole micrometre or more, so this ends; the rounds bound the wait.
void Chain::better(Order& order) const {
  const std::size_t rounds = order.size() > 1'000 ? 4 : 50;
  for (std::size_t round = 0; round < rounds; ++round) {
    const bool turned = turnPiecesRound(order), moved = movePieces(order);
    if (!turned && !moved) return;
  }
}

}  // namespace

std::vector<std::size_t> shortChain(const std::vector<Vec3>& points, double reach) {
  constexpr std::size_t kExact = 12;
  Order order(points.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  if (points.size() < 3 || points.size() > kMostInChain) return order;
  const Chain chain(points, reach);
  if (points.size() <= kExact) return chain.exact();
  Order nearest = chain.nearest();
  chain.better(nearest);
  chain.better(order);  // from the order as drawn, which is often good already
  return chainCost(points, nearest, reach) < chainCost(points, order, reach) ? nearest : order;
}

ChainCost chainCost(const std::vector<Vec3>& points, const std::vector<std::size_t>& order, double reach) {
  const Chain chain(points, reach);
  ChainCost cost;
  for (std::size_t k = 0; k + 1 < order.size(); ++k) {
    const std::int64_t hop = chain.hop(order[k], order[k + 1]);
    cost.tooLong += hop / kTooLong;
    cost.micrometres += hop % kTooLong;
  }
  return cost;
}

base::Result<std::vector<std::int64_t>> shortOrder(const yard::Prop& prop) {
  if (prop.kind != "own") return tl::unexpected(sizeError("kind", "own_only", {{"typed", prop.kind}}));
  yard::Prop drawn = prop;
  drawn.stringOrder.clear();
  const auto shape = make(drawn);
  if (!shape) return tl::unexpected(shape.error());
  if (shape->pixels.size() > kMostInChain)
    return tl::unexpected(sizeError("string_order", "own_too_many_to_order",
                                    {{"count", static_cast<std::int64_t>(shape->pixels.size())},
                                     {"most", static_cast<std::int64_t>(kMostInChain)}}));
  const auto reach = prop.sizes.find("jumper");
  const Length jumper{reach != prop.sizes.end() ? reach->second : usualProp("own").sizes.at("jumper")};
  std::vector<std::int64_t> order;
  for (const std::size_t k : shortChain(shape->pixels, base::metres(jumper).si))
    order.push_back(static_cast<std::int64_t>(k) + 1);
  return order;
}

}  // namespace yw::shapes
