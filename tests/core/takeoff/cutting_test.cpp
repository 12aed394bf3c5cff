#include "core/takeoff/cutting.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace yw::takeoff {
namespace {

using base::inches;

/// Fewest bars by trying every bar for every piece.
std::size_t fewest(const std::vector<Length>& pieces, std::size_t next, std::vector<Length>& left,
                   Length stock, Length kerf, std::size_t best) {
  if (left.size() >= best) return best;
  if (next == pieces.size()) return left.size();
  for (std::size_t b = 0; b < left.size(); ++b) {
    if (left[b] < pieces[next]) continue;
    const Length before = left[b];
    left[b] = std::max(Length{0}, before - pieces[next] - kerf);
    best = fewest(pieces, next + 1, left, stock, kerf, best);
    left[b] = before;
  }
  left.push_back(std::max(Length{0}, stock - pieces[next] - kerf));
  best = fewest(pieces, next + 1, left, stock, kerf, best);
  left.pop_back();
  return best;
}

// Best fit decreasing takes at most 11/9 of the fewest and one more (Johnson 1974); small cases against all
// ways of cutting.
TEST(CutPlan, IsNearTheFewestBarsThatThereAre) {
  std::uint64_t state = 9;
  int same = 0;
  constexpr int kCases = 150;
  for (int i = 0; i < kCases; ++i) {
    std::vector<Length> pieces;
    for (int k = 0; k < 3 + i % 6; ++k) {
      state = state * 6364136223846793005U + 1442695040888963407U;
      pieces.push_back(inches(10 + static_cast<std::int64_t>((state >> 33) % 80)));
    }
    const CutPlan plan = cutFrom(pieces, inches(120));
    std::vector<Length> left;
    const std::size_t exact = fewest(pieces, 0, left, inches(120), kKerf, pieces.size() + 1);
    EXPECT_GE(plan.bars.size(), exact);
    EXPECT_LE(plan.bars.size() * 9, exact * 11 + 9);
    same += plan.bars.size() == exact;
    std::size_t cut = 0;
    for (const Bar& bar : plan.bars) {
      Length sum{0};
      for (const Length piece : bar.pieces) sum += piece;
      EXPECT_LE(sum + kKerf * static_cast<std::int64_t>(bar.pieces.size() - 1), inches(120));
      cut += bar.pieces.size();
    }
    EXPECT_EQ(cut, pieces.size());
  }
  EXPECT_GT(same, kCases * 9 / 10);
}

TEST(CutPlan, JoinsWhatIsLongerThanTheStock) {
  const CutPlan plan = cutFrom({inches(250)}, inches(120));
  EXPECT_EQ(plan.joined, 1);
  ASSERT_EQ(plan.bars.size(), 3u);
  EXPECT_EQ(plan.bars[2].pieces, (std::vector<Length>{inches(10)}));
  EXPECT_NEAR(plan.yield, 250.0 / 360, 1e-12);
}

TEST(CutPlan, UsesABarUpWhole) {
  EXPECT_EQ(cutFrom({inches(60), inches(60)}, inches(120), {0}).bars.size(), 1u);
  EXPECT_EQ(cutFrom({inches(60), inches(60)}, inches(120)).bars.size(), 2u);  // the saw takes 1/8 in
  EXPECT_EQ(cutFrom({inches(120)}, inches(120)).bars.size(), 1u);
  EXPECT_TRUE(cutFrom({inches(1)}, {0}).bars.empty());
  EXPECT_TRUE(cutFrom({}, inches(120)).bars.empty());
}

// By hand: a 4 x 8 ft face is one sheet of that size; four pieces of 2 x 3 ft lie two abreast in 6 ft of it;
// a 60 in disc on mesh 4 ft wide takes two runs of 5 ft, joined; 9 ft of 3 ft on 8 ft sheets is joined too.
TEST(SheetPlan, MatchesFacesLaidOutByHand) {
  using base::feet;
  const auto sheet = [](const std::vector<SheetPiece>& pieces) {
    return cutFromSheet(pieces, feet(8), feet(4));
  };
  const CutPlan whole = sheet({{feet(8), feet(4), 1}});
  EXPECT_EQ(whole.bars.size(), 1U);
  EXPECT_DOUBLE_EQ(whole.yield, 1.0);
  const CutPlan four = sheet({{feet(3), feet(2), 4}});
  ASSERT_EQ(four.bars.size(), 1U);
  EXPECT_EQ(four.bars[0].left, feet(2));
  EXPECT_DOUBLE_EQ(four.yield, 24.0 / 32.0);
  const CutPlan disc = cutFromSheet({{inches(60), inches(60), 1}}, feet(25), feet(4));
  ASSERT_EQ(disc.bars.size(), 1U);
  EXPECT_EQ(disc.joined, 1);
  EXPECT_EQ(disc.bars[0].left, feet(15));
  EXPECT_DOUBLE_EQ(disc.yield, 25.0 / 100.0);
  EXPECT_EQ(sheet({{feet(9), feet(3), 1}}).joined, 1);
  EXPECT_EQ(sheet({{feet(9), feet(3), 1}}).bars.size(), 2U);
  EXPECT_TRUE(cutFromSheet({{feet(3), feet(2), 4}}, feet(8), {0}).bars.empty());
}

// Never fewer sheets than the area needs, and never less cut than asked for.
TEST(SheetPlan, BuysAtLeastTheAreaItNeeds) {
  std::uint64_t state = 5;
  const auto roll = [&](std::int64_t below) {
    state = state * 6364136223846793005U + 1442695040888963407U;
    return 1 + static_cast<std::int64_t>((state >> 33) % static_cast<std::uint64_t>(below));
  };
  for (int i = 0; i < 3000; ++i) {
    std::vector<SheetPiece> pieces;
    double area = 0;
    for (std::int64_t n = roll(5); n > 0; --n) {
      pieces.push_back({inches(roll(150)), inches(roll(150)), roll(6)});
      area += static_cast<double>(pieces.back().count * pieces.back().length.count / 1000) *
              static_cast<double>(pieces.back().width.count);
    }
    const CutPlan plan = cutFromSheet(pieces, base::feet(8), base::feet(4));
    const double bought = static_cast<double>(base::feet(8).count / 1000) *
                          static_cast<double>(base::feet(4).count) * static_cast<double>(plan.bars.size());
    ASSERT_GE(bought, area * (1 - 1e-9));
    ASSERT_GT(plan.yield, 0.0);
    ASSERT_LE(plan.yield, 1.0 + 1e-9);
  }
}

}  // namespace
}  // namespace yw::takeoff
