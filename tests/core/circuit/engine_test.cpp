#include "core/circuit/engine.h"

#include <gtest/gtest.h>

#include <cstring>

#include "tests/outside/networks.h"

namespace yw::circuit {
namespace {

using checks::Dice;
using checks::randomNetwork;
using checks::Wish;

bool sameBits(const std::vector<std::vector<double>>& a, const std::vector<std::vector<double>>& b) {
  if (a.size() != b.size()) return false;
  for (std::size_t c = 0; c < a.size(); ++c)
    if (a[c].size() != b[c].size() ||
        (!a[c].empty() && std::memcmp(a[c].data(), b[c].data(), a[c].size() * sizeof(double)) != 0))
      return false;
  return true;
}

void expectSame(const Solution& a, const Solution& b) {
  EXPECT_TRUE(sameBits(a.volts, b.volts));
  EXPECT_TRUE(sameBits(a.zeroVolts, b.zeroVolts));
  EXPECT_TRUE(sameBits(a.positiveAmps, b.positiveAmps));
  EXPECT_EQ(a.conductorAmps, b.conductorAmps);
  EXPECT_EQ(a.sourceAmps, b.sourceAmps);
  EXPECT_EQ(a.state, b.state);
  EXPECT_EQ(a.loadFactor, b.loadFactor);
}

/// One change of a run, lead or supply, as a person makes it.
void change(Engine& engine, Dice& dice) {
  const Network& n = engine.network();
  const int what = dice.below(5);
  if (what == 0) {
    const auto c = static_cast<std::size_t>(dice.below(static_cast<int>(n.chains.size())));
    Chain chain = n.chains[c];
    const double times = dice.between(0.5, 2.0);
    for (std::size_t k = 1; k < chain.load.size(); ++k) {
      chain.positive[k] *= times;
      chain.zero[k] *= times;
    }
    engine.setChain(c, chain);
  } else if (what == 1) {
    const auto c = static_cast<std::size_t>(dice.below(static_cast<int>(n.chains.size())));
    Chain chain = n.chains[c];
    const auto load = static_cast<std::int32_t>(dice.below(static_cast<int>(n.loads.size())));
    for (std::size_t k = chain.load.size() / 3; k < chain.load.size() / 2; ++k) chain.load[k] = load;
    engine.setChain(c, chain);
  } else if (what == 2) {
    engine.setConductor(static_cast<std::size_t>(dice.below(static_cast<int>(n.conductors.size()))),
                        dice.unit() < 0.1 ? checks::kCut : dice.between(0.01, 0.3));
  } else if (what == 3) {
    engine.setSource(static_cast<std::size_t>(dice.below(static_cast<int>(n.sources.size()))),
                     dice.between(11.5, 12.5), dice.unit() < 0.1 ? 0.0 : dice.between(0.001, 0.02));
  } else {
    std::vector<Load> loads = n.loads;
    loads[static_cast<std::size_t>(dice.below(static_cast<int>(loads.size())))].idle =
        dice.between(0.0005, 0.003);
    engine.setLoads(loads);
  }
}

TEST(Engine, AnswersEveryChangeLikeAFreshNetwork) {
  int kept = 0, changes = 0;
  for (std::uint64_t seed = 1; seed <= 25; ++seed) {
    Wish wish;
    wish.pixels = 600;
    wish.chains = 5;
    wish.stress = seed % 3 == 0 ? 1.5 : 0.6;
    wish.sourceOhms = seed % 4 == 0 ? 0.0 : 0.005;
    Engine engine(randomNetwork(seed, wish));
    engine.pixelVolts();
    Dice dice(seed + 100);
    for (int i = 0; i < 12; ++i, ++changes) {
      SCOPED_TRACE(testing::Message() << "seed " << seed << ", change " << i);
      const int before = engine.builds();
      change(engine, dice);
      if (dice.unit() < 0.3) change(engine, dice);
      expectSame(engine.solution(), solve(engine.network()));
      kept += engine.builds() == before ? 1 : 0;
    }
  }
  EXPECT_GT(kept, changes / 4);  // most changes join and part nothing
}

TEST(Engine, TakesARunOfAnotherLength) {
  Wish wish;
  Engine engine(randomNetwork(3, wish));
  engine.pixelVolts();
  Chain chain = engine.network().chains.back();
  chain.load.push_back(chain.load.back());
  chain.positive.push_back(chain.positive.back());
  chain.zero.push_back(chain.zero.back());
  engine.setChain(engine.network().chains.size() - 1, chain);
  expectSame(engine.solution(), solve(engine.network()));
}

TEST(Engine, KeepsWhatIsJoinedWhenOnlyBrightnessChanges) {
  Wish wish;
  wish.pixels = 1000;
  Engine engine(randomNetwork(8, wish));
  engine.pixelVolts();
  for (const double brightness : {0.7, 0.3, 0.9}) {
    std::vector<Load> loads = engine.network().loads;
    for (Load& load : loads) {
      load.watts *= brightness;
      load.idle *= brightness;
    }
    engine.setLoads(loads);
    expectSame(engine.solution(), solve(engine.network()));
  }
  EXPECT_EQ(engine.builds(), 1);
}

TEST(Engine, LeavesIslandsAloneThatNothingReaches) {
  Network n;
  n.extraNodes = 4;
  n.sources = {{0, 1, 12.0, 0.01}, {2, 3, 12.0, 0.01}};
  n.loads = {checks::kneeLoad(0.002, 0.04, 7.0, 10.2)};
  n.chains = {checks::evenChain(40, 0, 0.004, 0.004), checks::evenChain(40, 0, 0.004, 0.004)};
  checks::feed(n, 0, 1, 0, 0, 0.05, 0.05);
  checks::feed(n, 2, 3, 1, 0, 0.05, 0.05);
  Engine engine(n);
  const std::vector<double> before(engine.pixelVolts().begin(), engine.pixelVolts().end());
  engine.setChain(1, checks::evenChain(40, 0, 0.008, 0.008));
  const auto after = engine.pixelVolts();
  EXPECT_TRUE(std::equal(before.begin(), before.begin() + 40, after.begin()));
  EXPECT_LT(after[79], before[79]);
}

}  // namespace
}  // namespace yw::circuit
