#include <gtest/gtest.h>

#include <cmath>

#include "bench_yard.h"

namespace yw::routes {
namespace {

using testing::at;
using testing::BenchYard;
using testing::len;
using yard::RunItemKind;
using yard::TerminalKind;

const RoutedCable& cable(const Routes& routes, CableRole role, Id of, std::int64_t item = 0) {
  const auto it = routes.cables.find(CableKey{role, of, item});
  if (it == routes.cables.end()) throw std::runtime_error("no such cable");
  return it->second;
}

TEST(Lead, GoesDownAlongTheGroundAndUpAgain) {
  BenchYard b;
  const Id port = b.port(b.controller(b.box(0, 0, 0.5)), 5);
  const Id prop = b.prop("Ring 3", 3, 4, {{0, 0, 1.25}, {0.1, 0, 1.25}});
  const Id run = b.run(port, {BenchYard::stretch(prop)});
  const RoutedCable lead = cable(b.routed(), CableRole::Lead, run);
  EXPECT_DOUBLE_EQ(lead.planLength, 5.0);
  EXPECT_DOUBLE_EQ(lead.verticalLength, 1.75);
  EXPECT_EQ(lead.path, (std::vector<Vec3>{{0, 0, 0.5}, {0, 0, 0}, {3, 4, 0}, {3, 4, 1.25}}));
  EXPECT_EQ(lead.label, "K1-P05-A");
  EXPECT_EQ(lead.fromText, "K1 port 5");
  EXPECT_EQ(lead.toText, "Ring 3 IN, 6 o'clock");
  EXPECT_EQ(lead.wire, b.wire);
  // (6.75 + 2·0.3 + 2·0.15)·1.1 = 8.415, in steps of 0.5.
  EXPECT_EQ(lead.cutLength, len(8.5));
}

TEST(Lead, IsCutToTheStepItJustFills) {
  BenchYard b;
  b.change<yard::Settings>(b.settings, [](auto& s) {
    s.tail = s.dripLoop = {0};
    s.slack = {0};
  });
  const Id port = b.port(b.controller(b.box(0, 0, 0)), 1);
  const Id run = b.run(port, {BenchYard::stretch(b.prop("A", 3, 4, {{0, 0, 0}}))});
  EXPECT_EQ(cable(b.routed(), CableRole::Lead, run).cutLength, len(5.0));
  b.change<yard::Settings>(b.settings, [](auto& s) { s.slack = {100}; });
  EXPECT_EQ(cable(b.routed(), CableRole::Lead, run).cutLength, len(5.5));
}

TEST(Lead, OnTheWallOfItsBoxRunsAlongTheWall) {
  BenchYard b;
  const Id wall = b.wall(0, 0, 10, 0);
  const Id port = b.port(b.controller(b.box(1, 0.5, 0.3, wall)), 1);
  const Id prop = b.prop("Eave", 4, 2.5, {{0, 0, 0}, {2, 0, 0}}, wall);
  const RoutedCable lead = cable(b.routed(), CableRole::Lead, b.run(port, {BenchYard::stretch(prop)}));
  EXPECT_DOUBLE_EQ(lead.planLength, 3.0);
  EXPECT_DOUBLE_EQ(lead.verticalLength, 2.0);
  EXPECT_EQ(lead.path, (std::vector<Vec3>{{1, 0, 0.5}, {1, 0, 2.5}, {4, 0, 2.5}}));
}

TEST(Lead, RunsRoundTheCornerWhereTwoWallsMeet) {
  BenchYard b;
  const Id front = b.wall(0, 0, 10, 0), side = b.wall(10, 0, 10, 8);
  const Id port = b.port(b.controller(b.box(8, 1, 0.3, front)), 1);
  const Id prop = b.prop("Eave", 3, 2.5, {{0, 0, 0}}, side);
  const RoutedCable lead = cable(b.routed(), CableRole::Lead, b.run(port, {BenchYard::stretch(prop)}));
  EXPECT_DOUBLE_EQ(lead.planLength, 2.0 + 3.0);
  EXPECT_DOUBLE_EQ(lead.verticalLength, 1.5);
}

TEST(Lead, FromAWallToThePropOnTheLawnComesDown) {
  BenchYard b;
  const Id wall = b.wall(0, 0, 10, 0);
  const Id port = b.port(b.controller(b.box(1, 1.5, 0.3, wall)), 1);
  const Id prop = b.prop("Arch", 1, -3, {{0, 0, 0.25}});
  const RoutedCable lead = cable(b.routed(), CableRole::Lead, b.run(port, {BenchYard::stretch(prop)}));
  EXPECT_DOUBLE_EQ(lead.planLength, 3.0);
  EXPECT_DOUBLE_EQ(lead.verticalLength, 1.75);
}

TEST(Lead, FollowsThePlacesThePersonPutAndTheWireTheyChose) {
  BenchYard b;
  const Id port = b.port(b.controller(b.box(0, 0, 0)), 1);
  yard::Wire other;
  other.name = "16/3";
  yard::Cable record;
  record.path = {at(0, 3)};
  record.wire = b.add(other);
  auto item = BenchYard::stretch(b.prop("A", 4, 0, {{0, 0, 0}}));
  item.lead = b.add(record);
  const RoutedCable lead = cable(b.routed(), CableRole::Lead, b.run(port, {item}));
  EXPECT_DOUBLE_EQ(lead.length(), 8.0);
  EXPECT_EQ(lead.record, item.lead);
  EXPECT_EQ(lead.wire, record.wire);
  EXPECT_EQ(lead.conductors, yard::ConductorSet::PowerAndData) << "a run's lead carries data";
}

TEST(Lead, ThatIsOwnedIsTooShortWhenItDoesNotReach) {
  BenchYard b;
  const Id port = b.port(b.controller(b.box(0, 0, 0)), 1);
  yard::Cable record;
  record.ownLength = len(4.3);  // the way and two drip loops of 0.15
  auto item = BenchYard::stretch(b.prop("A", 4, 0, {{0, 0, 0}}));
  item.lead = b.add(record);
  const Id run = b.run(port, {item});
  RoutedCable lead = cable(b.routed(), CableRole::Lead, run);
  EXPECT_TRUE(lead.owned);
  EXPECT_FALSE(lead.tooShort);
  EXPECT_EQ(lead.cutLength, len(4.3));
  b.change<yard::Cable>(item.lead, [](auto& c) { c.ownLength = len(4.29); });
  EXPECT_TRUE(cable(b.routed(), CableRole::Lead, run).tooShort);
}

TEST(Lead, OfARunThatIsNotPluggedInIsNotThere) {
  BenchYard b;
  const Id a = b.prop("A", 0, 0, {{0, 0, 0}}), c = b.prop("B", 5, 0, {{0, 0, 0}});
  const Id run = b.run({}, {BenchYard::stretch(a), BenchYard::stretch(c)}, "South lawn");
  const Routes routes = b.routed();
  ASSERT_EQ(routes.cables.size(), 1u);
  EXPECT_EQ(cable(routes, CableRole::Jumper, run, 1).label, "South lawn-C");
}

TEST(Jumper, GoesFromTheFarEndOfOneStretchToTheNearEndOfTheNext) {
  BenchYard b;
  const Id port = b.port(b.controller(b.box(0, 0, 0)), 2);
  const Id a = b.prop("A", 2, 0, {{0, 0, 1}, {1, 0, 2}}), c = b.prop("B", 6, 0, {{0, 0, 1}, {1, 0, 3}});
  const Id run = b.run(port, {BenchYard::stretch(a, 0, 0, true), BenchYard::stretch(c)});
  const Routes routes = b.routed();
  const RoutedCable& lead = cable(routes, CableRole::Lead, run);
  EXPECT_EQ(lead.to.kind, TerminalKind::PropOut) << "turned round: data enters at the far end";
  EXPECT_EQ(lead.toText, "A OUT, 5 o'clock");
  const RoutedCable& jumper = cable(routes, CableRole::Jumper, run, 1);
  EXPECT_EQ(jumper.label, "K1-P02-C");
  EXPECT_EQ(jumper.fromText, "A IN, 6 o'clock");
  EXPECT_DOUBLE_EQ(jumper.planLength, 4.0);
  EXPECT_DOUBLE_EQ(jumper.verticalLength, 1.0 + 1.0);
}

TEST(Jumper, BetweenTouchingEndsIsStraightButNeverShorterThanTheString) {
  BenchYard b;
  const Id port = b.port(b.controller(b.box(0, 0, 0)), 1);
  const Id a = b.prop("A", 2, 0, {{0, 0, 2}}), c = b.prop("B", 2.3, 0, {{0, 0, 2.4}});
  const Id d = b.prop("D", 2.3, 0, {{0, 0, 2.45}});
  const Id run = b.run(port, {BenchYard::stretch(a), BenchYard::stretch(c), BenchYard::stretch(d)});
  const Routes routes = b.routed();
  EXPECT_DOUBLE_EQ(cable(routes, CableRole::Jumper, run, 1).length(), 0.5);
  EXPECT_DOUBLE_EQ(cable(routes, CableRole::Jumper, run, 2).length(), 0.1)
      << "5 cm apart, 10 cm of string wire";
}

TEST(Jumper, InsideOnePropFollowsIt) {
  BenchYard b;
  const Id port = b.port(b.controller(b.box(0, 0, 0)), 1);
  const Id a = b.prop("A", 2, 0, {{0, 0, 2}, {1, 0, 2}, {2, 0, 2}, {3, 0, 4}});
  const Id run = b.run(port, {BenchYard::stretch(a, 1, 2), BenchYard::stretch(a, 3, 4, true)});
  const RoutedCable jumper = cable(b.routed(), CableRole::Jumper, run, 1);
  EXPECT_DOUBLE_EQ(jumper.length(), std::hypot(2, 2)) << "pixel 2 to pixel 4, straight";
  EXPECT_EQ(jumper.fromText, "A pixel 2, row 1");
  EXPECT_EQ(jumper.toText, "A OUT, 5 o'clock");
}

TEST(NullPixel, StandsMidwayOfItsGap) {
  BenchYard b;
  const Id port = b.port(b.controller(b.box(0, 0, 0)), 1);
  const Id a = b.prop("A", 2, 0, {{0, 0, 0}}), c = b.prop("B", 12, 0, {{0, 0, 0}});
  const Id run =
      b.run(port, {BenchYard::stretch(a), BenchYard::inLine(RunItemKind::NullPixel), BenchYard::stretch(c)});
  const Routes routes = b.routed();
  const RoutedCable &to = cable(routes, CableRole::Jumper, run, 1),
                    &on = cable(routes, CableRole::Jumper, run, 2);
  EXPECT_DOUBLE_EQ(to.length(), 5.0);
  EXPECT_DOUBLE_EQ(on.length(), 5.0);
  EXPECT_EQ(to.path.back(), (Vec3{7, 0, 0}));
  EXPECT_EQ(on.path.front(), (Vec3{7, 0, 0}));
  EXPECT_EQ(to.toText, "null pixel");
  EXPECT_EQ(on.fromText, "null pixel");
}

TEST(NullPixel, AndBoosterOnTheLeadShareItEvenly) {
  BenchYard b;
  const Id port = b.port(b.controller(b.box(0, 0, 3)), 1);
  const Id a = b.prop("A", 12, 0, {{0, 0, 0}});
  const Id run = b.run(port, {BenchYard::inLine(RunItemKind::Booster),
                              BenchYard::inLine(RunItemKind::NullPixel), BenchYard::stretch(a)});
  const Routes routes = b.routed();
  EXPECT_NEAR(cable(routes, CableRole::Lead, run, 0).length(), 5.0, 1e-12);
  EXPECT_NEAR(cable(routes, CableRole::Jumper, run, 1).length(), 5.0, 1e-12);
  EXPECT_NEAR(cable(routes, CableRole::Jumper, run, 2).length(), 5.0, 1e-12);
  EXPECT_EQ(cable(routes, CableRole::Lead, run, 0).path.back(), (Vec3{2, 0, 0}));
}

TEST(Feed, GoesFromItsFusePositionToItsPixel) {
  BenchYard b;
  const Id box = b.box(0, 0, 0);
  yard::Supply s;
  s.box = box;
  const Id supply = b.add(s);
  yard::FusePosition f;
  f.supply = supply;
  f.number = 3;
  yard::Cable feed;
  feed.to = {TerminalKind::FusePosition, b.add(f), 0};  // written the wrong way round
  const Id prop = b.prop("Tree 1", 6, 8, {{0, 0, 0}, {0, 0, 1}, {0, 0, 2}});
  feed.from = {TerminalKind::PropPixel, prop, 2};
  const Id id = b.add(feed);
  const RoutedCable way = cable(b.routed(), CableRole::Feed, id);
  EXPECT_EQ(way.label, "K1-F03");
  EXPECT_EQ(way.fromText, "K1 fuse position 3");
  EXPECT_EQ(way.toText, "Tree 1 pixel 2, row 1");
  EXPECT_DOUBLE_EQ(way.length(), 11.0);
  EXPECT_EQ(way.conductors, yard::ConductorSet::PowerOnly);
}

TEST(Feed, OfABoxWithTwoSuppliesNamesTheSupply) {
  BenchYard b;
  yard::Supply s;
  s.box = b.box(0, 0, 0);
  const Id first = b.add(s);
  b.add(s);
  yard::FusePosition f;
  f.supply = first;
  f.number = 3;
  yard::Cable feed;
  feed.from = {TerminalKind::FusePosition, b.add(f), 0};
  feed.to = {TerminalKind::PropIn, b.prop("A", 1, 1, {{0, 0, 0}}), 0};
  EXPECT_EQ(cable(b.routed(), CableRole::Feed, b.add(feed)).label, "K1-V1-F03");
}

TEST(Cord, RunsFromTheOutletToTheSupply) {
  BenchYard b;
  yard::Outlet o;
  o.name = "Porch outlet";
  o.at = at(3, 0);
  o.height = len(0.4);
  yard::Supply s;
  s.outlet = b.add(o);
  s.box = b.box(0, 0, 0.3);
  const Id supply = b.add(s);
  const RoutedCable cord = cable(b.routed(), CableRole::MainsCord, supply);
  EXPECT_EQ(cord.label, "K1-V1-M");
  EXPECT_EQ(cord.fromText, "Porch outlet");
  EXPECT_EQ(cord.conductors, yard::ConductorSet::Mains);
  EXPECT_DOUBLE_EQ(cord.length(), 3.7);
  EXPECT_FALSE(cord.wire);
}

TEST(Cord, OfABoxTakesThePlaceOfItsSuppliesOwn) {
  BenchYard b;
  yard::Outlet o;
  o.name = "Porch outlet";
  o.at = at(3, 0);
  const Id outlet = b.add(o);
  const Id near = b.box(0, 0, 0.3), far = b.box(0, 8, 0.3);
  const auto supplyIn = [&](Id box) {
    yard::Supply s;
    s.box = box;
    s.outlet = outlet;
    return b.add(s);
  };
  const Id first = supplyIn(near), second = supplyIn(near), third = supplyIn(far);
  const auto cord = [&](yard::Terminal from, Id to) {
    yard::Cable c;
    c.from = from;
    c.to = {TerminalKind::Box, to, 0};
    c.conductors = yard::ConductorSet::Mains;
    return b.add(c);
  };
  const Id main = cord({TerminalKind::Outlet, outlet, 0}, near);
  const Id onwards = cord({TerminalKind::Box, near, 0}, far);
  const Routes routes = b.routed();
  EXPECT_EQ(cable(routes, CableRole::MainsCord, main).fromText, "Porch outlet");
  EXPECT_NEAR(cable(routes, CableRole::MainsCord, onwards).planLength, 8.0, 1e-9);
  for (const Id supply : {first, second, third})
    EXPECT_FALSE(routes.cables.contains({CableRole::MainsCord, supply, 0}));
  const auto way = [&](Id supply) { return cordsTo(b.yard, boxCords(b.yard), supply); };
  EXPECT_EQ(way(first).size(), 1U);
  ASSERT_EQ(way(third).size(), 2U);
  EXPECT_EQ(way(third)[0].of, main);
  EXPECT_EQ(way(third)[1].of, onwards);
}

TEST(Link, RunsFromTheControllerToItsReceiver) {
  BenchYard b;
  yard::Receiver r;
  r.name = "R1";
  r.controller = b.controller(b.box(0, 0, 0));
  r.box = b.box(0, 20, 0);
  const Id receiver = b.add(r);
  const RoutedCable link = cable(b.routed(), CableRole::ReceiverLink, receiver);
  EXPECT_EQ(link.label, "R1-L");
  EXPECT_EQ(link.conductors, yard::ConductorSet::DataOnly);
  EXPECT_DOUBLE_EQ(link.length(), 20.0);
}

TEST(Cables, TellTheWalksTheyCrossAndTheKeepOutsTheyEndIn) {
  BenchYard b;
  const Id port = b.port(b.controller(b.box(0, 0, 0)), 1);
  yard::GroundFeature walk;
  walk.kind = yard::FeatureKind::Walk;
  walk.outline = {at(2, -50), at(3, -50), at(3, 50), at(2, 50)};
  const Id walkId = b.add(walk);
  yard::GroundFeature keepOut;
  keepOut.kind = yard::FeatureKind::KeepOut;
  keepOut.outline = {at(5, -1), at(8, -1), at(8, 1), at(5, 1)};
  const Id keepOutId = b.add(keepOut);
  const Id run = b.run(port, {BenchYard::stretch(b.prop("A", 6, 0, {{0, 0, 0}}))});
  const RoutedCable lead = cable(b.routed(), CableRole::Lead, run);
  EXPECT_EQ(lead.crosses, std::vector<Id>{walkId});
  EXPECT_EQ(lead.enters, std::vector<Id>{keepOutId});
}

TEST(Cables, FromAControllerInNoBoxHaveNoLength) {
  BenchYard b;
  const Id port = b.port(b.controller({}), 1);
  const Id run = b.run(port, {BenchYard::stretch(b.prop("A", 6, 0, {{0, 0, 1}}))});
  const RoutedCable lead = cable(b.routed(), CableRole::Lead, run);
  EXPECT_DOUBLE_EQ(lead.length(), 0.0);
  EXPECT_EQ(lead.path, (std::vector<Vec3>{{6, 0, 1}}));
}

TEST(Wire, ResistanceFollowsGaugeMaterialStrandsAndWarmth) {
  yard::Settings s;
  s.strandingFactor = {1'000'000};
  s.wireTemperature = {20'000};
  yard::Wire wire;
  wire.gauge = 18;
  // 18 AWG: 20.95 mΩ/m of solid annealed copper at 20 °C (ASTM B258 with IEC 60028).
  EXPECT_NEAR(resistancePerMetre(wire, s).si, 20.95e-3, 0.01e-3);
  wire.material = yard::Material::CopperCladAluminium;
  EXPECT_NEAR(resistancePerMetre(wire, s).si, 33.30e-3, 0.01e-3);  // ASTM B566: 62.9 % IACS
  wire.material = yard::Material::Copper;
  s.strandingFactor = {1'025'000};
  s.wireTemperature = {75'000};
  EXPECT_NEAR(resistancePerMetre(wire, s).si, 20.95e-3 * 1.025 * (1 + 0.00393 * 55), 0.02e-3);
  wire.perMetre = {25'000};
  EXPECT_NEAR(resistancePerMetre(wire, s).si, 25e-3 * (1 + 0.00393 * 55), 1e-9) << "printed: only the warmth";
}

TEST(Wire, LimitIsThePrintedOneElseByGauge) {
  yard::Wire wire;
  wire.name = "18/3";
  wire.gauge = 18;
  const double byGauge = limitOf(wire).si;
  EXPECT_GT(byGauge, 0.0);
  EXPECT_FALSE(limitSource(wire).empty());
  wire.limit = {3'000'000};
  EXPECT_DOUBLE_EQ(limitOf(wire).si, 3.0);
  EXPECT_EQ(limitSource(wire), "printed figure of 18/3");
  wire.limit = {0};
  wire.gauge = 2;
  EXPECT_DOUBLE_EQ(limitOf(wire).si, 0.0);
}

}  // namespace
}  // namespace yw::routes
