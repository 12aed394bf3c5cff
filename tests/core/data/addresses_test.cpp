#include <gtest/gtest.h>

#include "core/data/data.h"
#include "tests/core/routes/bench_yard.h"

namespace yw::data {
namespace {

using routes::testing::BenchYard;
using routes::testing::len;
using yard::RunItemKind;

Data computed(const BenchYard& b) { return compute(b.yard, b.shapes, b.routed(), {}); }

Id propOf(BenchYard& b, std::size_t pixels, double x = 0.0) {
  return b.prop("P", x, 0, std::vector<base::Vec3>(pixels, base::Vec3{}));
}

TEST(RunFigures, CountPixelsNullsBoostersAndUnused) {
  BenchYard b;
  const Id port = b.port(b.controller(b.box(0, 0, 0)), 1);
  const Id run =
      b.run(port, {BenchYard::inLine(RunItemKind::NullPixel, 2), BenchYard::stretch(propOf(b, 100), 11, 30),
                   BenchYard::inLine(RunItemKind::Booster), BenchYard::stretch(propOf(b, 50)),
                   BenchYard::inLine(RunItemKind::Unused, 5)});
  const RunData data = computed(b).runs.at(run);
  EXPECT_EQ(data.pixels, 70);
  EXPECT_EQ(data.nulls, 2);
  EXPECT_EQ(data.boosters, 1);
  EXPECT_EQ(data.unused, 5);
  EXPECT_EQ(data.slots(), 77);
  EXPECT_EQ(data.frame.count, 77 * 30'000 + 300'000);
  EXPECT_EQ(data.limitByFrame, 823);
  EXPECT_EQ(data.limitByController, 1024);
  EXPECT_EQ(data.limit(), 823);
  EXPECT_EQ(data.products, std::vector<Id>{b.product});
}

TEST(RunFigures, OfMixedPixelsGoByTheSlowest) {
  BenchYard b;
  yard::Product slow;
  slow.name = "slow RGBW";
  slow.channels = 4;
  slow.bitRate = 400'000;
  const Id product = b.add(slow);
  const Id a = propOf(b, 10), c = propOf(b, 10);
  b.change<yard::Prop>(c, [&](auto& p) { p.product = product; });
  const Id run =
      b.run(b.port(b.controller(b.box(0, 0, 0)), 1), {BenchYard::stretch(a), BenchYard::stretch(c)});
  const RunData data = computed(b).runs.at(run);
  EXPECT_EQ(data.limitByFrame, 308);  // 4 × 8 at 400 kb/s, 40 a second
  EXPECT_EQ(data.frame.count, (10 * 24 + 10 * 32) * 2'500 + 300'000);
  EXPECT_EQ(data.products, (std::vector<Id>{b.product, product}));
  EXPECT_EQ(data.end, (Address{1, 70})) << "30 slots, then 40";
}

TEST(Addresses, FollowByControllerReceiverPort) {
  BenchYard b;
  const Id box = b.box(0, 0, 0), first = b.controller(box), second = b.controller(box);
  yard::Receiver r;
  r.controller = first;
  r.box = box;
  const Id receiver = b.add(r);
  const Id p2 = b.port(first, 2), p1 = b.port(first, 1), q1 = b.port(second, 1), r1 = b.port(receiver, 1);
  const auto run = [&](Id port, std::size_t pixels) {
    return b.run(port, {BenchYard::stretch(propOf(b, pixels))});
  };
  const Id onQ1 = run(q1, 10), onR1 = run(r1, 10), onP2 = run(p2, 100), onP1 = run(p1, 100);
  const Data data = computed(b);
  EXPECT_EQ(data.runs.at(onP1).start, (Address{1, 1}));
  EXPECT_EQ(data.runs.at(onP1).end, (Address{1, 300}));
  EXPECT_EQ(data.runs.at(onP2).start, (Address{1, 301}));
  EXPECT_EQ(data.runs.at(onP2).end, (Address{2, 90})) << "70 whole pixels in universe 1, 30 in universe 2";
  EXPECT_EQ(data.runs.at(onR1).start, (Address{2, 91}));
  EXPECT_EQ(data.runs.at(onQ1).start, (Address{3, 1})) << "a controller begins a new universe";
  EXPECT_EQ(data.universesOf.at(first), 2);
  EXPECT_EQ(data.universesOf.at(second), 1);
  EXPECT_TRUE(data.overlaps.empty());
}

TEST(Addresses, PackedRunOnOverTheUniverse) {
  BenchYard b;
  b.change<yard::Settings>(b.settings, [](auto& s) { s.addressMode = yard::AddressMode::Packed; });
  const Id c = b.controller(b.box(0, 0, 0));
  const Id first = b.run(b.port(c, 1), {BenchYard::stretch(propOf(b, 171))});
  const Id second = b.run(b.port(c, 2), {BenchYard::stretch(propOf(b, 1))});
  const Data data = computed(b);
  EXPECT_EQ(data.runs.at(first).end, (Address{2, 1}));
  EXPECT_EQ(data.runs.at(second).start, (Address{2, 2}));
}

TEST(Addresses, GivenInOrderLeaveOutWhatIsFixed) {
  BenchYard b;
  const Id c = b.controller(b.box(0, 0, 0));
  const Id free1 = b.run(b.port(c, 1), {BenchYard::stretch(propOf(b, 100))});
  const Id fixed = b.run(b.port(c, 2), {BenchYard::stretch(propOf(b, 50))});
  const Id free2 = b.run(b.port(c, 3), {BenchYard::stretch(propOf(b, 10))});
  b.change<yard::Run>(fixed, [](auto& r) {
    r.startUniverse = 1;
    r.startSlot = 151;
  });
  const Data data = computed(b);
  EXPECT_EQ(data.runs.at(fixed).start, (Address{1, 151}));
  EXPECT_EQ(data.runs.at(free1).start, (Address{1, 301})) << "100 pixels do not fit before the fixed run";
  EXPECT_EQ(data.runs.at(free2).start, (Address{2, 91}));
  EXPECT_TRUE(data.overlaps.empty());
}

TEST(Addresses, FixedOnOneAnotherOverlap) {
  BenchYard b;
  const Id c = b.controller(b.box(0, 0, 0));
  const Id one = b.run(b.port(c, 1), {BenchYard::stretch(propOf(b, 100))});
  const Id two = b.run(b.port(c, 2), {BenchYard::stretch(propOf(b, 100))});
  b.change<yard::Run>(one, [](auto& r) { r.startUniverse = 5; });
  b.change<yard::Run>(two, [](auto& r) {
    r.startUniverse = 5;
    r.startSlot = 300;
  });
  const Data data = computed(b);
  ASSERT_EQ(data.overlaps.size(), 1u);
  EXPECT_EQ(data.overlaps[0].runA, one);
  EXPECT_EQ(data.overlaps[0].runB, two);
  EXPECT_EQ(data.overlaps[0].first, (Address{5, 300}));
  b.change<yard::Run>(two, [](auto& r) { r.startSlot = 301; });
  EXPECT_TRUE(computed(b).overlaps.empty());
}

TEST(Addresses, OfARunWithoutAPortAreNotGiven) {
  BenchYard b;
  const Id free = b.port(b.controller(b.box(0, 0, 0)), 1);
  const Id run = b.run({}, {BenchYard::stretch(propOf(b, 10))});
  const Data data = computed(b);
  EXPECT_FALSE(data.runs.at(run).addressed);
  EXPECT_EQ(data.freePorts, std::vector<Id>{free});
}

TEST(Hops, HaveTheLimitOfWhatSends) {
  BenchYard b;
  const Id port = b.port(b.controller(b.box(0, 0, 0)), 1);
  const Id run = b.run(port, {BenchYard::stretch(propOf(b, 1, 6)), BenchYard::stretch(propOf(b, 1, 16))});
  std::vector<Hop> hops = computed(b).runs.at(run).hops;
  ASSERT_EQ(hops.size(), 2u);
  EXPECT_TRUE(hops[0].fromPort);
  EXPECT_DOUBLE_EQ(hops[0].length, 6.0);
  EXPECT_DOUBLE_EQ(hops[0].limit, 25 * 0.3048);
  EXPECT_FALSE(hops[1].fromPort);
  EXPECT_DOUBLE_EQ(hops[1].length, 10.0);
  EXPECT_DOUBLE_EQ(hops[1].limit, 12 * 0.3048);
  b.change<yard::Product>(b.product, [](auto& p) { p.reach = len(5.0); });
  EXPECT_DOUBLE_EQ(computed(b).runs.at(run).hops[1].limit, 5.0) << "the data sheet's, if it has one";
}

TEST(Hops, AreSplitByANullPixel) {
  BenchYard b;
  const Id port = b.port(b.controller(b.box(0, 0, 0)), 1);
  const Id run = b.run(port, {BenchYard::stretch(propOf(b, 1, 1)), BenchYard::inLine(RunItemKind::NullPixel),
                              BenchYard::stretch(propOf(b, 1, 7))});
  const std::vector<Hop> hops = computed(b).runs.at(run).hops;
  ASSERT_EQ(hops.size(), 3u);
  EXPECT_DOUBLE_EQ(hops[1].length, 3.0);
  EXPECT_DOUBLE_EQ(hops[2].length, 3.0);
  EXPECT_DOUBLE_EQ(hops[2].limit, 12 * 0.3048) << "a null pixel is a pixel";
}

TEST(Hops, AfterABoosterReachAsFarAsFromAPort) {
  BenchYard b;
  const Id port = b.port(b.controller(b.box(0, 0, 0)), 1);
  const Id run = b.run(port, {BenchYard::stretch(propOf(b, 1, 1)), BenchYard::inLine(RunItemKind::Booster),
                              BenchYard::stretch(propOf(b, 1, 7))});
  const std::vector<Hop> hops = computed(b).runs.at(run).hops;
  EXPECT_DOUBLE_EQ(hops[1].limit, 12 * 0.3048);
  EXPECT_DOUBLE_EQ(hops[2].limit, 25 * 0.3048);
}

TEST(Links, HaveTheLengthOfTheirCable) {
  BenchYard b;
  yard::Receiver r;
  r.controller = b.controller(b.box(0, 0, 0));
  r.box = b.box(30, 40, 0);
  const Id receiver = b.add(r);
  EXPECT_DOUBLE_EQ(computed(b).receiverLink.at(receiver), 50.0);
}

}  // namespace
}  // namespace yw::data
