#include <gtest/gtest.h>

#include "tests/core/circuit/power_yard.h"

namespace yw::circuit::test {
namespace {

using routes::CableRole;

// 100 px, 12 V, 40 mA, 5 ft of 18 AWG, 20 AWG string of 4 in: 2·R·n·i + r·i·n(n-1) with IEC 60028 copper.
TEST(YardPower, LastPixelOfALongStringIsLow) {
  PowerYard y;
  const Id prop = y.addProp(100), run = y.addRun(y.port, {PowerYard::stretch(prop)});
  y.lead(run, y.awg18, 5 * kFoot);
  const Power p = y.power();
  const RunFigure& figure = p.runs.at(run);
  EXPECT_NEAR(figure.volts.back(), 10.404, 2e-3);
  EXPECT_EQ(figure.lowestPixel, 100);
  EXPECT_DOUBLE_EQ(figure.lowestVolts, figure.volts.back());
  EXPECT_NEAR(figure.portAmps, 4.0, 1e-9);
  EXPECT_NEAR(figure.totalAmps, 4.0, 1e-9);
  EXPECT_NEAR(figure.segmentAmps[0], 4.0, 1e-9);
  EXPECT_NEAR(figure.segmentAmps[60], 40 * 0.04, 1e-9);
  EXPECT_NEAR(p.portAmps.at(y.port), 4.0, 1e-9);
  EXPECT_NEAR((p.sectionAmps.at({y.controller, 1})), 4.0, 1e-9);
  const CableFigure lead = p.cables.at({CableRole::Lead, run, 0});
  EXPECT_NEAR(lead.positiveAmps, 4.0, 1e-9);
  EXPECT_NEAR(lead.zeroAmps, 4.0, 1e-9);
}

TEST(YardPower, BrightnessLimitScalesWhatIsAboveIdle) {
  PowerYard y;
  const Id prop = y.addProp(100), run = y.addRun(y.port, {PowerYard::stretch(prop)});
  y.lead(run, y.awg18, 5 * kFoot);
  // idle + b (full - idle): 2 + 0.3 · 38 = 13.4 mA each.
  EXPECT_NEAR(y.power(Condition::BrightnessLimit).runs.at(run).totalAmps, 1.34, 1e-9);
  EXPECT_NEAR(y.power(Condition::FullWhite).runs.at(run).totalAmps, 4.0, 1e-9);
}

TEST(YardPower, RunWithoutPortPowerIsDarkUntilFed) {
  PowerYard y;
  const Id prop = y.addProp(50), run = y.addRun(y.port, {PowerYard::stretch(prop)});
  y.lead(run, y.awg18, 1.0);
  y.change<yw::yard::Run>(run, [](yw::yard::Run& r) { r.portPower = false; });
  const RunFigure dark = y.power().runs.at(run);
  EXPECT_EQ(dark.fed, std::vector<std::uint8_t>(50, 0));
  EXPECT_EQ(dark.lowestPixel, 0);
  EXPECT_EQ(dark.totalAmps, 0.0);

  const Id position = y.addFusePosition(y.supply), feed = y.feed(position, prop, 50, y.awg14, 3.0);
  const Power p = y.power();
  EXPECT_EQ(p.runs.at(run).fed, std::vector<std::uint8_t>(50, 1));
  EXPECT_NEAR(p.feeds.at(feed).amps, 2.0, 1e-9);
  EXPECT_EQ(p.feeds.at(feed).run, run);
  EXPECT_EQ(p.feeds.at(feed).runPixel, 50);
  EXPECT_EQ(p.feeds.at(feed).voltsAtPixel, p.runs.at(run).volts[49]);
  EXPECT_EQ(p.portAmps.at(y.port), 0.0);
  // The data lead's 0 V takes part of the return though it brings no V+.
  const double back = p.cables.at({CableRole::Lead, run, 0}).zeroAmps;
  EXPECT_GT(back, 0.1);
  EXPECT_NEAR(back + p.cables.at({CableRole::Feed, feed, 0}).zeroAmps, 2.0, 1e-9);
}

TEST(YardPower, RunWithoutPortLivesOnItsFeeds) {
  PowerYard y;
  const Id prop = y.addProp(20), run = y.addRun({}, {PowerYard::stretch(prop)});
  y.feed(y.addFusePosition(y.supply), prop, 1, y.awg18, 2.0);
  const RunFigure figure = y.power().runs.at(run);
  EXPECT_EQ(figure.fed, std::vector<std::uint8_t>(20, 1));
  EXPECT_NEAR(figure.totalAmps, 0.8, 1e-9);
  EXPECT_EQ(figure.portAmps, 0.0);
}

TEST(YardPower, CutPositiveLeavesEachPartToItsOwnFuse) {
  PowerYard y;
  const Id prop = y.addProp(100), run = y.addRun(y.port, {PowerYard::stretch(prop)});
  y.lead(run, y.awg18, 5 * kFoot);
  const Id position = y.addFusePosition(y.supply);
  const Id feed = y.feed(position, prop, 61, y.awg14, 6.0, true);
  const Power p = y.power();
  EXPECT_NEAR(p.portAmps.at(y.port), 60 * 0.04, 1e-9);
  EXPECT_NEAR(p.feeds.at(feed).amps, 40 * 0.04, 1e-9);
  // Not the 0 V: across the cut it still carries its share.
  EXPECT_GT(p.runs.at(run).segmentAmps[60], 0.01);
}

TEST(YardPower, CutBeforeTheFirstPixelTakesThePortOff) {
  PowerYard y;
  const Id prop = y.addProp(10), run = y.addRun(y.port, {PowerYard::stretch(prop)});
  y.lead(run, y.awg18, 1.0);
  const Id feed = y.feed(y.addFusePosition(y.supply), prop, 1, y.awg14, 1.0, true);
  const Power p = y.power();
  EXPECT_EQ(p.portAmps.at(y.port), 0.0);
  EXPECT_NEAR(p.feeds.at(feed).amps, 0.4, 1e-9);
}

TEST(YardPower, CutFollowsTheDataOfAReversedStretch) {
  PowerYard y;
  const Id prop = y.addProp(10), run = y.addRun(y.port, {PowerYard::stretch(prop, 0, 0, true)});
  y.lead(run, y.awg18, 1.0);
  y.feed(y.addFusePosition(y.supply), prop, 4, y.awg14, 1.0, true);
  // Data goes 10, 9, … so the port keeps pixels 10 to 5.
  EXPECT_NEAR(y.power().portAmps.at(y.port), 6 * 0.04, 1e-9);
}

// 299-series blade fuse: about 0.1 V at rated current.
TEST(YardPower, FusesDropATenthOfAVoltAtTheirRating) {
  PowerYard y;
  const Id prop = y.addProp(50), run = y.addRun(y.port, {PowerYard::stretch(prop)});
  y.lead(run, y.awg18, 1.0);
  const double without = y.power().runs.at(run).volts[0];
  y.change<Port>(y.port, [](Port& p) { p.fuse = {2'000'000}; });
  EXPECT_NEAR(without - y.power().runs.at(run).volts[0], 0.1, 1e-9) << "2 A through a 2 A fuse";

  const Id own = y.addProp(50), second = y.addRun({}, {PowerYard::stretch(own)});
  const Id feed = y.feed(y.addFusePosition(y.supply, {4'000'000}), own, 1, y.awg18, 1.0);
  const Power p = y.power();
  EXPECT_NEAR(p.feeds.at(feed).voltsAtFuse, 12.0 - 0.05, 1e-9);
  EXPECT_EQ(p.runs.at(second).volts[0], p.feeds.at(feed).voltsAtPixel);
}

TEST(YardPower, EveryPlugHasTwoContactsALine) {
  PowerYard y;
  const Id prop = y.addProp(50), run = y.addRun(y.port, {PowerYard::stretch(prop)});
  y.lead(run, y.awg18, 1.0);
  const double without = y.power().runs.at(run).volts[0];
  y.change<Settings>(y.settings, [](Settings& s) { s.jointResistance = {5'000}; });
  EXPECT_NEAR(without - y.power().runs.at(run).volts[0], 2.0 * 2 * 2 * 0.005, 1e-9);
}

TEST(YardPower, BoardsInOneBoxShareZeroVoltsAndDataJoinsOtherBoxes) {
  PowerYard y;
  const Id far = y.add(Box{}), second = y.addSupply(far);
  const Id prop = y.addProp(200), run = y.addRun(y.port, {PowerYard::stretch(prop)});
  y.lead(run, y.awg18, 40 * kFoot);
  const Id feed = y.feed(y.addFusePosition(second), prop, 200, y.awg14, 10 * kFoot);
  y.change<Product>(y.product, [](Product& p) {
    p.idle = {0};
    p.fullWhite = {12'800};
  });
  y.change<Cable>(feed, [](Cable& c) { c.cutPositive = true; });
  Power p = y.power();
  // The far supply is joined by nothing but the run's 0 V, so each return equals its own V+.
  EXPECT_NEAR(p.cables.at({CableRole::Lead, run, 0}).zeroAmps, p.portAmps.at(y.port), 1e-9);

  // A second run from the same controller, fed in the far box too, closes the mesh.
  const Id other = y.addProp(20), link = y.addRun(y.addPort(y.controller, 2, 1), {PowerYard::stretch(other)});
  y.lead(link, y.awg18, 10.0);
  const Id tie = y.feed(y.addFusePosition(second), other, 20, y.awg14, 5.0, true);
  p = y.power();
  const double lead = p.cables.at({CableRole::Lead, run, 0}).zeroAmps - p.portAmps.at(y.port);
  const double back = p.cables.at({CableRole::Feed, feed, 0}).zeroAmps - p.feeds.at(feed).amps;
  EXPECT_GT(std::abs(lead), 0.01);
  EXPECT_NEAR(lead, -back, 1e-9);
  EXPECT_NEAR(p.cables.at({CableRole::Feed, tie, 0}).zeroAmps - p.feeds.at(tie).amps, lead, 1e-9);
}

// The same 200 pixels with both supplies in one box: independent two-rail calculation, 0.97 and 1.59 A.
TEST(YardPower, ReturnsDivideByTheMeshWhenSuppliesShareABox) {
  PowerYard y;
  const Id second = y.addSupply(y.box);
  const Id prop = y.addProp(200), run = y.addRun(y.port, {PowerYard::stretch(prop)});
  y.change<Product>(y.product, [](Product& p) {
    p.idle = {0};
    p.fullWhite = {12'800};
  });
  y.lead(run, y.awg18, 40 * kFoot);
  const Id end = y.feed(y.addFusePosition(second), prop, 200, y.awg14, 10 * kFoot);
  // V+ cut in the middle: two stretches joined by a cable that has no V+.
  y.change<yw::yard::Run>(run, [&](yw::yard::Run& r) {
    r.items = {PowerYard::stretch(prop, 1, 100), PowerYard::stretch(prop, 101, 200)};
  });
  y.cable(CableRole::Jumper, run, 1, y.awg20, 4 * kInch, ConductorSet::DataOnly);
  const Power p = y.power();
  EXPECT_NEAR(p.portAmps.at(y.port), 1.28, 1e-9);
  EXPECT_NEAR(p.feeds.at(end).amps, 1.28, 1e-9);
  EXPECT_NEAR(p.cables.at({CableRole::Lead, run, 0}).zeroAmps, 0.97, 5e-3);
  EXPECT_NEAR(p.cables.at({CableRole::Feed, end, 0}).zeroAmps, 1.59, 5e-3);
  EXPECT_EQ(p.cables.at({CableRole::Jumper, run, 1}).positiveAmps, 0.0);
}

// A switching-supply technical manual: I = P/(V·η·PF); 350 W, 120 V, η 0.85: 6.239 A at PF 0.55.
TEST(YardPower, SuppliesLoadTheirHouseCircuit) {
  PowerYard y;
  y.change<Product>(y.product, [](Product& p) {
    p.idle = {0};
    p.fullWhite = {350'000'000 / 12 / 50};
  });
  const Id prop = y.addProp(50);
  y.change<Product>(y.product, [](Product& p) { p.lowestVolts = p.darkVolts = {1'000'000}; });
  y.addRun({}, {PowerYard::stretch(prop)});
  y.feed(y.addFusePosition(y.supply), prop, 1, y.awg14, 0.01);
  OtherLoad freezer;
  freezer.circuit = y.circuit;
  freezer.amps = {1'500'000};
  y.add(freezer);
  const Power p = y.power();
  EXPECT_NEAR(p.supplies.at(y.supply).watts, 350.0, 0.01);
  EXPECT_NEAR(p.supplies.at(y.supply).lineAmps, 6.239, 1e-3);
  EXPECT_NEAR(p.circuits.at(y.circuit).amps, 6.239 + 1.5, 1e-3);
  EXPECT_DOUBLE_EQ(p.circuits.at(y.circuit).standing, 1.5);
  EXPECT_NEAR(p.circuits.at(y.circuit).leakage, 0.0005, 1e-12);
}

TEST(YardPower, ConstantPowerPixelsThatCannotAllBeOnAreSaid) {
  PowerYard y;
  y.change<Product>(y.product, [](Product& p) {
    p.load = LoadModel::Regulated;
    p.lowestVolts = {6'500'000};
    p.fullWhite = {60'000};
  });
  const Id prop = y.addProp(400), run = y.addRun(y.port, {PowerYard::stretch(prop)});
  const Id fine = y.addProp(10), well = y.addRun(y.addPort(y.controller, 2, 1), {PowerYard::stretch(fine)});
  y.lead(run, y.awg18, 3.0);
  y.lead(well, y.awg18, 3.0);
  const Power p = y.power();
  EXPECT_TRUE(p.runs.at(run).noOperatingPoint);
  EXPECT_EQ(p.runs.at(run).weakestPixel, 400);
  EXPECT_GT(p.runs.at(run).loadFactor, 0.05);
  EXPECT_LT(p.runs.at(run).loadFactor, 0.9);
  for (const double volts : p.runs.at(run).volts) EXPECT_GE(volts, 0.0);
  EXPECT_FALSE(p.runs.at(well).noOperatingPoint) << "one sick run costs nobody else";
  EXPECT_GT(p.runs.at(well).lowestVolts, 11.5);
}

TEST(YardPower, CableOfItsOwnCarriesASupplyToABoard) {
  PowerYard y;
  const Id prop = y.addProp(50), run = y.addRun(y.port, {PowerYard::stretch(prop)});
  y.lead(run, y.awg18, 1.0);
  const double joined = y.power().runs.at(run).volts[0];
  const Id there = y.add(Box{});
  y.change<Controller>(y.controller, [&](Controller& c) { c.box = there; });
  Cable trunk;
  trunk.from = {TerminalKind::Supply, y.supply, 0};
  trunk.to = {TerminalKind::Controller, y.controller, 0};
  const Id id = y.add(trunk);
  y.cable(CableRole::Trunk, id, 0, y.awg14, 10.0, ConductorSet::PowerOnly);
  auto& routed = y.routes.cables[{CableRole::Trunk, id, 0}];
  routed.from = trunk.from;
  routed.to = trunk.to;
  const Power p = y.power();
  EXPECT_NEAR(joined - p.runs.at(run).volts[0], 2 * 2.0 * 10.0 * 8.286e-3, 1e-4);
  EXPECT_NEAR(p.cables.at({CableRole::Trunk, id, 0}).positiveAmps, 2.0, 1e-9);
  EXPECT_NEAR(p.cables.at({CableRole::Trunk, id, 0}).zeroAmps, 2.0, 1e-9);
  EXPECT_NEAR((p.sectionAmps.at({y.controller, 1})), 2.0, 1e-9);
}

TEST(YardPower, NothingWiredIsNoTrouble) {
  PowerYard y;
  const Id run = y.addRun(y.port, {});
  const Power p = y.power();
  EXPECT_TRUE(p.runs.at(run).volts.empty());
  EXPECT_EQ(p.supplies.at(y.supply).amps, 0.0);
  EXPECT_EQ((p.sectionAmps.at({y.controller, 1})), 0.0);
}

}  // namespace
}  // namespace yw::circuit::test
