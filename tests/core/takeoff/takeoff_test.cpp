#include "core/takeoff/takeoff.h"

#include <gtest/gtest.h>

#include "tests/core/routes/bench_yard.h"

namespace yw::takeoff {
namespace {

using routes::testing::BenchYard;
using routes::testing::len;
using yard::RunItemKind;
using yard::TerminalKind;

Totals counted(const BenchYard& b) { return compute(b.yard, b.shapes, b.routed()); }

const PartLine* line(const Totals& totals, const std::string& group, const std::string& what) {
  for (const PartLine& l : totals.parts)
    if (l.group == group && l.what == what) return &l;
  return nullptr;
}

/// How many of it; -1 when there is no such line.
std::int64_t many(const Totals& totals, const std::string& group, const std::string& what) {
  const PartLine* found = line(totals, group, what);
  return found == nullptr ? -1 : found->count;
}

Id propOf(BenchYard& b, std::size_t pixels, double x = 0.0) {
  return b.prop("P", x, 0, std::vector<base::Vec3>(pixels, base::Vec3{}));
}

TEST(Totals, CountPropsThatAreMeantForThisYear) {
  BenchYard b;
  propOf(b, 120);
  const Id idea = propOf(b, 1000), later = propOf(b, 1000), broken = propOf(b, 30);
  b.change<yard::Prop>(idea, [](auto& p) { p.status = yard::PropStatus::Idea; });
  b.change<yard::Prop>(later, [](auto& p) { p.status = yard::PropStatus::NotThisYear; });
  b.change<yard::Prop>(broken, [](auto& p) { p.status = yard::PropStatus::NeedsRepair; });
  const Totals totals = counted(b);
  EXPECT_EQ(totals.props, 2);
  EXPECT_EQ(totals.pixels, 150);
}

TEST(Totals, BuyWholeStringsOfWhatIsNotOwned) {
  BenchYard b;
  const Id prop = propOf(b, 260);
  b.change<yard::Prop>(prop, [](auto& p) { p.status = yard::PropStatus::Building; });
  b.change<yard::Product>(b.product, [](auto& p) { p.price = {125'000}; });
  Totals totals = counted(b);
  const PartLine* pixels = line(totals, "Pixels", "node");
  ASSERT_NE(pixels, nullptr);
  EXPECT_EQ(pixels->strings, 6);
  EXPECT_EQ(pixels->cost.count, 6 * 125'000);
  EXPECT_TRUE(totals.costComplete);
  yard::OwnedItem owned;
  owned.product = b.product;
  owned.count = 70;
  b.add(owned);
  totals = counted(b);
  pixels = line(totals, "Pixels", "node");
  EXPECT_EQ(pixels->owned, 70);
  EXPECT_EQ(pixels->strings, 4);
  EXPECT_EQ(totals.cost.count, 4 * 125'000);
}

TEST(Totals, BuyNoPixelsForPropsThatAreBuilt) {
  BenchYard b;
  const Id ready = propOf(b, 100), building = propOf(b, 60);
  b.change<yard::Prop>(ready, [](auto& p) { p.status = yard::PropStatus::Ready; });
  b.change<yard::Prop>(building, [](auto& p) { p.status = yard::PropStatus::Building; });
  const Totals totals = counted(b);
  const PartLine* pixels = line(totals, "Pixels", "node");
  ASSERT_NE(pixels, nullptr);
  EXPECT_EQ(pixels->count, 160);
  EXPECT_EQ(pixels->owned, 100);
  EXPECT_EQ(pixels->strings, 2) << "60 pixels on strings of 50";
}

TEST(Totals, AddUpLeadsByWireWithoutTheOnesOwned) {
  BenchYard b;
  const Id c = b.controller(b.box(0, 0, 0));
  b.change<yard::Wire>(b.wire, [](auto& w) { w.pricePerMetre = {20'000}; });
  b.run(b.port(c, 1), {BenchYard::stretch(propOf(b, 1, 10))});  // (10 + 0.9)·1.1 = 11.99: cut 12
  yard::Cable record;
  record.ownLength = len(30);
  auto item = BenchYard::stretch(propOf(b, 1, 20));
  item.lead = b.add(record);
  b.run(b.port(c, 2), {item});
  const Totals totals = counted(b);
  const PartLine* leads = line(totals, "Leads", "18/3");
  ASSERT_NE(leads, nullptr);
  EXPECT_EQ(leads->count, 2);
  EXPECT_EQ(leads->owned, 1);
  EXPECT_EQ(leads->length, len(12));
  EXPECT_EQ(leads->cost.count, 240'000);
  EXPECT_EQ(totals.leads, 2);
  EXPECT_EQ(totals.leadLength, len(42));
}

TEST(Totals, CountWhatStandsInTheBoxes) {
  BenchYard b;
  const Id box = b.box(0, 0, 0), c = b.controller(box);
  yard::Supply supply;
  supply.box = box;
  const Id supplyId = b.add(supply);
  b.add(supply);
  yard::FusePosition fuse;
  fuse.supply = supplyId;
  fuse.fuse = {10'000'000};
  const Id fuseId = b.add(fuse);
  fuse.number = 2;
  b.add(fuse);  // free: no fuse to buy
  yard::Cable feed;
  feed.from = {TerminalKind::FusePosition, fuseId, 0};
  const Id prop = propOf(b, 2, 3);
  feed.to = {TerminalKind::PropPixel, prop, 2};
  b.add(feed);
  const Id port = b.port(c, 1);
  b.change<yard::Port>(port, [](auto& p) { p.fuse = {7'500'000}; });
  b.run(port, {BenchYard::inLine(RunItemKind::Booster), BenchYard::stretch(prop),
               BenchYard::inLine(RunItemKind::NullPixel, 3)});
  b.port(c, 2);
  const Totals totals = counted(b);
  EXPECT_EQ(totals.supplies, 2);
  EXPECT_EQ(totals.feeds, 1);
  EXPECT_EQ(totals.boosters, 1);
  EXPECT_EQ(totals.nulls, 3);
  EXPECT_EQ(totals.ports, 2);
  EXPECT_EQ(totals.portsFree, 1);
  EXPECT_EQ(totals.runs, 1);
  EXPECT_EQ(many(totals, "Power", "12 V 29 A supply"), 2);
  EXPECT_EQ(many(totals, "Power", "10 A fuse"), 1);
  EXPECT_EQ(many(totals, "Power", "7.5 A fuse"), 1) << "of the port that is used";
  EXPECT_EQ(many(totals, "Data", "controller"), 1);
  EXPECT_EQ(many(totals, "Data", "booster"), 1);
  EXPECT_EQ(many(totals, "Data", "null pixel"), 3);
  EXPECT_FALSE(totals.costComplete);
}

TEST(Totals, TakePricesFromTheListByWholePacks) {
  BenchYard b;
  const Id box = b.box(0, 0, 0);
  b.controller(box);
  yard::Price price;
  price.what = " Controller ";
  price.price = {1'000'000};
  b.add(price);
  Totals totals = counted(b);
  EXPECT_EQ(totals.cost.count, 1'000'000);
  EXPECT_TRUE(totals.costComplete);
  b.controller(box);
  b.controller(box);
  b.change<yard::Price>(Id{yard::all<yard::Price>(b.yard)[0].first}, [](auto& p) { p.pack = 2; });
  totals = counted(b);
  EXPECT_EQ(totals.cost.count, 2'000'000) << "three in packs of two";
  yard::OwnedItem owned;
  owned.what = "CONTROLLER";
  owned.count = 5;
  b.add(owned);
  totals = counted(b);
  EXPECT_EQ(totals.cost.count, 0);
  EXPECT_EQ(line(totals, "Data", "controller")->owned, 3);
}

TEST(Totals, SumTheStockOfAllProps) {
  BenchYard b;
  for (int i = 0; i < 2; ++i) {
    const Id id = propOf(b, 1);
    auto shape = *b.shapes.at(id);
    shape.materials = {{"pipe", len(1.5), 2}, {"stake", {}, 1}};
    b.shapes[id] = std::make_shared<const shapes::Shape>(shape);
  }
  const Totals totals = counted(b);
  EXPECT_EQ(line(totals, "Material", "pipe")->length, len(3));
  EXPECT_EQ(many(totals, "Material", "pipe"), 4);
  EXPECT_EQ(many(totals, "Material", "stake"), 2);
}

TEST(Totals, BuyNoStockForPropsThatAreBuilt) {
  BenchYard b;
  std::vector<Id> props;
  for (int i = 0; i < 3; ++i) {
    props.push_back(propOf(b, 1));
    auto shape = *b.shapes.at(props.back());
    shape.materials = {{"pipe", len(1.5), 2}};
    b.shapes[props.back()] = std::make_shared<const shapes::Shape>(shape);
  }
  b.change<yard::Prop>(props[0], [](auto& p) { p.status = yard::PropStatus::Building; });
  b.change<yard::Prop>(props[1], [](auto& p) { p.status = yard::PropStatus::NeedsRepair; });
  yard::Price price;
  price.what = "pipe";
  price.price = {1'000};
  b.add(price);
  const Totals totals = counted(b);
  EXPECT_EQ(many(totals, "Material", "pipe"), 6);
  EXPECT_EQ(line(totals, "Material", "pipe")->owned, 4) << "in the ready and the broken one";
  EXPECT_EQ(line(totals, "Material", "pipe")->cost.count, 2 * 1'000);
}

}  // namespace
}  // namespace yw::takeoff
