// Trenches that cables share: dug where that is cheaper, and never at the price of a limit.
#include <gtest/gtest.h>

#include <cmath>

#include "core/propose/plan.h"
#include "tests/core/findings/test_yard.h"

namespace yw::testyard {
namespace {

using propose::YardPlan;

/// Rings in a row beyond the box, each on a port of its own; digging costs that much a metre.
TestYard row(std::int64_t price) {
  TestYard y;
  y.e.remove({y.run, y.arch});
  y.set<Prop>(y.ring, [](Prop& p) { p.at = at(5.0, 0.4); });
  y.run = y.addRun(y.ports[0], {y.ring});
  for (int i = 1; i < 4; ++i)
    y.addRun(y.ports[static_cast<std::size_t>(i)],
             {y.addProp("ring", "Ring " + std::to_string(i + 1), at(5.0 + 0.6 * i, 0.4 * (i % 2)))});
  y.set<Settings>(settingsId(y.e.yard()), [&](Settings& s) { s.diggingPrice = {price}; });
  return y;
}

double digging(const assess::Assessment& a) { return routes::diggingOf(a.yard, a.routes).length; }

TEST(TrenchesOfYard, AreNotAskedForWhereDiggingHasNoPrice) {
  const auto before = assess::assess(row(0).e.yard());
  const YardPlan plan = propose::planTrenchesOf(before);
  EXPECT_TRUE(plan.change.empty());
  EXPECT_EQ(plan.costAfter, 0.0);
}

TEST(TrenchesOfYard, AreSharedSoThatLessIsDugAndNothingIsLost) {
  const auto before = assess::assess(row(200'000).e.yard());
  const YardPlan plan = propose::planTrenchesOf(before);
  ASSERT_FALSE(plan.change.empty());
  const auto after = assess::assess(edit::apply(before->yard, plan.change), before);
  EXPECT_LT(digging(*after), digging(*before) * 0.7);
  EXPECT_LT(plan.costAfter, plan.costBefore);
  EXPECT_LE(plan.bound, plan.costAfter + 1e-9);
  EXPECT_GT(plan.bound, 0.5 * plan.costAfter);
  // What it says it costs is what the yard then costs: 20 a metre of trench, and the wire.
  double cost = 20.0 * digging(*after);
  for (const auto& [key, cable] : after->routes.cables) {
    const bool ground = std::any_of(cable.lays.begin(), cable.lays.end(),
                                    [](routes::Lay l) { return l != routes::Lay::Above; });
    const Wire* wire = find<Wire>(after->yard, cable.wire);
    if (ground) cost += cable.length() * (wire ? routes::pricePerMetre(*wire) : 1.0);
  }
  EXPECT_NEAR(plan.costAfter, cost, 1e-6);
  ASSERT_FALSE(plan.steps.empty());
  EXPECT_EQ(base::text(plan.steps[0].reason).find('['), std::string::npos);
  const auto was = propose::graveness(*before), is = propose::graveness(*after);
  EXPECT_LE(is[0], was[0]);
  EXPECT_LE(is[1], was[1]);
  EXPECT_TRUE(edit::apply(after->yard, edit::reversed(plan.change)) == before->yard);
  EXPECT_TRUE(propose::planTrenchesOf(after).change.empty()) << "dug once, nothing to better";
}

TEST(TrenchesOfYard, LeaveANetWhoseBoxIsKept) {
  TestYard y = row(200'000);
  y.e.add(KeepAsIs{y.box, "trench"});
  EXPECT_TRUE(propose::planTrenchesOf(assess::assess(y.e.yard())).change.empty());
}

TEST(TrenchesOfYard, AreCountedAmongTheParts) {
  const auto before = assess::assess(row(200'000).e.yard());
  const auto after =
      assess::assess(edit::apply(before->yard, propose::planTrenchesOf(before).change), before);
  bool found = false;
  for (const takeoff::PartLine& line : after->totals.parts)
    if (line.what == "trench to dig") {
      found = true;
      EXPECT_NEAR(base::metres(line.length).si, digging(*after), 1e-6);
      EXPECT_NEAR(static_cast<double>(line.cost.count) * 1e-4, 20.0 * digging(*after), 0.01);
    }
  EXPECT_TRUE(found);
}

// Digging is so dear that every lead would go any way round to lie in a trench; data goes only so far.
TEST(TrenchesOfYard, MakeNoLeadLongerThanDataGoes) {
  TestYard y = row(20'000'000);
  const auto first = assess::assess(y.e.yard());
  double longest = 0.0;
  for (const auto& [key, cable] : first->routes.cables)
    if (key.role == routes::CableRole::Lead) longest = std::max(longest, cable.length());
  y.set<Settings>(settingsId(y.e.yard()),
                  [&](Settings& s) { s.controllerReach = base::toLength({longest + 0.001}); });
  const auto before = assess::assess(y.e.yard());
  const YardPlan plan = propose::planTrenchesOf(before);
  const auto after = assess::assess(edit::apply(before->yard, plan.change), before);
  for (const auto& [key, cable] : after->routes.cables)
    if (key.role == routes::CableRole::Lead) {
      EXPECT_LE(cable.length(), longest + 0.001) << cable.label;
    }
  EXPECT_LE(propose::graveness(*after)[1], propose::graveness(*before)[1]);
}

}  // namespace
}  // namespace yw::testyard
