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

namespace {

/// Runs of the whole width of the stock that alike pieces take, `across` it and `along` it.
struct Runs {
  std::int64_t count = 0;
  Length along;
  bool joined = false;
  double taken() const { return static_cast<double>(count) * static_cast<double>(along.count); }
};

Runs runsOf(std::int64_t pieces, Length across, Length along, Length stockWidth) {
  if (across > stockWidth)
    return {pieces * ((across.count + stockWidth.count - 1) / stockWidth.count), along, true};
  const std::int64_t abreast = stockWidth.count / across.count;
  return {(pieces + abreast - 1) / abreast, along, false};
}

}  // namespace

CutPlan cutFromSheet(const std::vector<SheetPiece>& pieces, Length stockLength, Length stockWidth) {
  CutPlan plan;
  if (stockLength.count <= 0 || stockWidth.count <= 0) return plan;
  std::vector<Length> runs;
  double used = 0;
  std::int64_t joined = 0;
  for (const SheetPiece& piece : pieces) {
    if (piece.length.count <= 0 || piece.width.count <= 0 || piece.count <= 0) continue;
    const Runs one = runsOf(piece.count, piece.width, piece.length, stockWidth);
    const Runs other = runsOf(piece.count, piece.length, piece.width, stockWidth);
    const Runs& best = other.taken() < one.taken() ? other : one;
    runs.insert(runs.end(), static_cast<std::size_t>(best.count), best.along);
    joined += best.joined ? piece.count : 0;
    used += static_cast<double>(piece.count) * static_cast<double>(piece.length.count) *
            static_cast<double>(piece.width.count);
  }
  plan = cutFrom(std::move(runs), stockLength, Length{0});  // a knife takes nothing off
  plan.joined += joined;
  const double bought = static_cast<double>(stockLength.count) * static_cast<double>(stockWidth.count) *
                        static_cast<double>(plan.bars.size());
  plan.yield = bought > 0 ? used / bought : 0.0;
  return plan;
}

}  // namespace yw::takeoff
