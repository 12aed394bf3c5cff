#include "core/takeoff/cutting.h"

#include <algorithm>
#include <functional>

namespace yw::takeoff {

CutPlan cutFrom(std::vector<Length> pieces, Length stock, Length kerf) {
  CutPlan plan;
  if (stock.count <= 0) return plan;
  double used = 0;
  for (Length& piece : pieces) {
    used += static_cast<double>(piece.count);
    plan.joined += piece > stock;
    while (piece > stock) {
      plan.bars.push_back({{stock}, {0}});
      piece -= stock;
    }
  }
  std::sort(pieces.begin(), pieces.end(), std::greater<>());
  for (const Length piece : pieces) {
    if (piece.count <= 0) continue;
    Bar* best = nullptr;
    for (Bar& bar : plan.bars)
      if (bar.left >= piece && (!best || bar.left < best->left)) best = &bar;
    if (!best) best = &plan.bars.emplace_back(Bar{{}, stock});
    best->pieces.push_back(piece);
    // The last piece may use the bar up without a cut of its own.
    best->left = std::max(Length{0}, best->left - piece - kerf);
  }
  const double bought = static_cast<double>(stock.count) * static_cast<double>(plan.bars.size());
  plan.yield = bought > 0 ? used / bought : 0.0;
  return plan;
}

}  // namespace yw::takeoff
