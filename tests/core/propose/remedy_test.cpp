// A remedy, applied, removes its finding and adds none as grave.
#include <gtest/gtest.h>

#include <functional>

#include "core/base/quantity.h"
#include "core/propose/propose.h"
#include "tests/core/findings/test_yard.h"

namespace yw::testyard {

using findings::Finding;

struct RemedyCase {
  std::string rule;
  std::function<void(TestYard&)> breakIt;
  std::string says;  ///< part of the sentence that must name part, place or amount
};

std::vector<RemedyCase> remedyCases() {
  return {
      {"low_volts",
       [](TestYard& y) {
         y.addLongRun(y.ports[1], 6);
         y.set<Settings>(settingsId(y.e.yard()), [](Settings& s) { s.brightnessLimit = {450'000}; });
       },
       "14/2"},
      {"past_the_end", [](TestYard& y) { y.addFeed(y.fuses[0], y.ring, 9'999); }, "pixel 56 of Ring 1"},
      {"past_the_end",
       [](TestYard& y) {
         y.set<yard::Run>(y.run, [](yard::Run& r) { r.items[0].first = 1, r.items[0].last = 30; });
         yard::RunItem rest = TestYard::stretch(y.ring);
         rest.first = 90, rest.last = 120;
         yard::Run second;
         second.port = y.ports[1];
         second.items = {rest};
         y.e.add(second);
       },
       "Take Ring 1 off"},
      {"past_the_end",
       [](TestYard& y) {
         // Of two stretches of one prop only the one that ends early is changed.
         y.set<yard::Run>(y.run, [](yard::Run& r) {
           r.items[0].first = 1, r.items[0].last = 30;
           yard::RunItem rest = r.items[0];
           rest.first = 31, rest.last = 99;
           r.items.insert(r.items.begin() + 1, rest);
         });
       },
       "pixel 56 of Ring 1"},
      {"past_the_end",
       [](TestYard& y) {
         y.set<yard::Run>(y.run, [](yard::Run& r) { r.items[0].first = 1, r.items[0].last = 99; });
       },
       "pixel 56 of Ring 1"},
      {"will_not_light",
       [](TestYard& y) { y.set<Controller>(y.controller, [](Controller& c) { c.sections[0].supply = {}; }); },
       "Power section 1 of"},
      {"pink_white",
       [](TestYard& y) {
         y.addLongRun(y.ports[1], 6);
         y.set<Settings>(settingsId(y.e.yard()), [](Settings& s) { s.brightnessLimit = {450'000}; });
       },
       "14/2"},
      {"short_not_cleared",
       [](TestYard& y) {
         for (const Id port : y.ports) y.set<Port>(port, [](Port& p) { p.fuse = {7'500'000}; });
         y.addLongRun(y.ports[1], 4);
       },
       "K1-P0"},
      {"feed_lost",
       [](TestYard& y) {
         const Id run = y.addLongRun(y.ports[1], 6);
         const RunItem last = find<Run>(y.e.yard(), run)->items.back();
         y.addFeed(y.fuses[0], last.prop, 1);
         y.set<Settings>(settingsId(y.e.yard()), [](Settings& s) { s.brightnessLimit = {350'000}; });
       },
       "14/2"},
      {"low_margin",
       [](TestYard& y) {
         y.addLongRun(y.ports[1], 3);
         y.set<Settings>(settingsId(y.e.yard()), [](Settings& s) { s.brightnessLimit = {320'000}; });
       },
       "14/2"},
      {"zero_open",
       [](TestYard& y) {
         const Id lead = y.addLead(ConductorSet::PositiveOnly);
         y.set<Run>(y.run, [&](Run& r) { r.items[0].lead = lead; });
       },
       "18/3"},
      {"thin_return",
       [](TestYard& y) {
         y.set<Settings>(settingsId(y.e.yard()), [](Settings& s) { s.brightnessLimit = {1'000'000}; });
         y.set<Run>(y.run, [](Run& r) { r.portPower = false; });
         const Id feed = y.addFeed(y.fuses[0], y.ring, 1);
         y.set<Cable>(feed, [](Cable& c) { c.conductors = ConductorSet::PositiveOnly; });
         y.set<Wire>(settings(y.e.yard()).usualLead, [](Wire& w) { w.limit = {2'000'000}; });
       },
       "14/2"},
      {"port_pixels",
       [](TestYard& y) { y.set<Controller>(y.controller, [](Controller& c) { c.pixelsPerPort = 80; }); },
       "K1-P02"},
      {"port_amps", [](TestYard& y) { y.set<Port>(y.ports[0], [](Port& p) { p.limit = {1'200'000}; }); },
       "14/2"},
      {"section_amps",
       [](TestYard& y) {
         y.set<Controller>(y.controller, [](Controller& c) { c.sections[0].limit = {1'000'000}; });
       },
       "14/2"},
      {"fuse_and_wire", [](TestYard& y) { y.set<Port>(y.ports[0], [](Port& p) { p.fuse = {15'000'000}; }); },
       "K1-P01"},
      {"fuse_load", [](TestYard& y) { y.set<Port>(y.ports[0], [](Port& p) { p.fuse = {1'000'000}; }); },
       "2.00 A"},
      {"supply_load",
       [](TestYard& y) {
         for (int i = 1; i < 4; ++i) y.addLongRun(y.ports[static_cast<std::size_t>(i)], 2);
         y.addFeed(y.fuses[0], y.ring, 40);
         y.set<Supply>(y.supply, [](Supply& s) { s.ratedAmps = {4'500'000}; });
       },
       "K1"},
      {"mixed_volts",
       [](TestYard& y) {
         const Id five = y.addSupply(y.box, y.outlet, 5, 40);
         y.set<Controller>(y.controller, [&](Controller& c) { c.sections.push_back({five, {30'000'000}}); });
         y.set<Port>(y.ports[3], [](Port& p) { p.section = 2; });
         y.set<Prop>(y.arch, [&](Prop& p) { p.product = y.product("5 V node"); });
       },
       "K1-P04"},
      {"mixed_chips",
       [](TestYard& y) {
         for (const Id port : y.ports) y.set<Port>(port, [](Port& p) { p.fuse = {3'000'000}; });
         y.set<Prop>(y.arch, [&](Prop& p) { p.product = y.product("12 V strip, four colors"); });
       },
       "K1-P02"},
      {"address_overlap",
       [](TestYard& y) {
         const Id second = y.addRun(y.ports[1], {y.addProp("ring", "Ring 2", at(2, 5.5))});
         for (const Id id : {y.run, second})
           y.set<Run>(id, [](Run& r) {
             r.startUniverse = 3;
             r.startSlot = 1;
           });
       },
       "free address"},
      {"circuit_load",
       [](TestYard& y) {
         OtherLoad heater;
         heater.circuit = y.circuit;
         heater.amps = {11'800'000};
         y.e.add(heater);
       },
       "Porch outlet"},
      {"crossing", [](TestYard& y) { y.addArea(FeatureKind::Walk, -50, 1, 50, 2, false); }, "Front walk"},
      {"keep_out", [](TestYard& y) { y.addArea(FeatureKind::KeepOut, 4.2, 2.5, 4.8, 3.5, true); }, "Arch 1"},
      {"positives_joined",
       [](TestYard& y) { y.addFeed(y.addFuse(y.addSupply(y.box, y.outlet2, 12, 29), 1), y.arch, 10); },
       "pixel 10"},
      {"data_reach", [](TestYard& y) { y.set<Prop>(y.arch, [](Prop& p) { p.at = at(8.6, 3); }); }, "Arch 1"},
      {"supply_unplugged", [](TestYard& y) { y.set<Supply>(y.supply, [](Supply& s) { s.outlet = {}; }); },
       "outlet"},
      {"supply_hot",
       [](TestYard& y) {
         y.set<Settings>(settingsId(y.e.yard()), [](Settings& s) { s.ambient = {49'000}; });
         y.set<Box>(y.box, [](Box& b) {
           b.insideWidth = base::inches(4);
           b.insideHeight = base::inches(3);
           b.insideDepth = base::inches(2);
         });
       },
       "K1"},
      {"gfci_leakage",
       [](TestYard& y) {
         const Id second = y.addSupply(y.box, y.outlet, 12, 29);
         for (const Id id : {y.supply, second}) y.set<Supply>(id, [](Supply& s) { s.leakage = {2'500}; });
       },
       "Porch outlet"},
      {"gfci_missing",
       [](TestYard& y) { y.set<HouseCircuit>(y.circuit, [](HouseCircuit& c) { c.groundFault = false; }); },
       "Garage"},
      {"receptacle_load",
       [](TestYard& y) {
         y.set<Supply>(y.supply, [](Supply& s) { s.powerFactor = {100'000}; });
         y.set<Outlet>(y.outlet, [](Outlet& o) { o.receptacle = {1'800'000}; });
       },
       "Porch outlet"},
      {"cord_load",
       [](TestYard& y) {
         const Id cord = y.addBoxCord({TerminalKind::Outlet, y.outlet, 0}, y.box, "16/3 cord");
         y.set<Supply>(y.supply, [](Supply& s) { s.powerFactor = {100'000}; });
         y.set<Wire>(y.wire("16/3 cord"), [](Wire& w) { w.limit = {1'000'000}; });
         y.set<Cable>(cord, [](Cable& c) { c.ownLength = m(6); });
       },
       "14/3 cord"},
      {"cord_drop",
       [](TestYard& y) {
         Cable cord;
         cord.from = {TerminalKind::Outlet, y.outlet, 0};
         cord.to = {TerminalKind::Supply, y.supply, 0};
         cord.conductors = ConductorSet::Mains;
         cord.wire = y.wire("16/3 cord");
         y.e.add(cord);
         y.set<Supply>(y.supply, [](Supply& s) { s.powerFactor = {100'000}; });
         y.set<Outlet>(y.outlet, [](Outlet& o) { o.at = at(-150, 0); });
       },
       "12/3 cord"},
      {"cord_chain",
       [](TestYard& y) {
         const Id cord = y.addBoxCord({TerminalKind::Outlet, y.outlet, 0}, y.box);
         y.set<Cable>(cord, [](Cable& c) { c.pieces = 4; });
       },
       "one whole cord for K1"},
      {"inrush",
       [](TestYard& y) {
         for (int i = 0; i < 4; ++i) y.addSupply(y.box, y.outlet, 12, 29);
       },
       "Garage"},
  };
}

TEST(Remedy, RemovesItsFindingAndAddsNoneAsGrave) {
  for (const RemedyCase& c : remedyCases()) {
    TestYard y;
    c.breakIt(y);
    const assess::AssessmentPtr before = assessed(y);
    const findings::Report report = findings::report(*before);
    const Finding* target = nullptr;
    for (const Finding& f : report.findings)
      if (f.rule == c.rule && !target) target = &f;
    ASSERT_TRUE(target) << c.rule;
    const auto proposal = propose::remedy(before, report, *target);
    ASSERT_TRUE(proposal) << c.rule << ": nothing is offered for: " << base::text(target->sentence);
    const std::string says = base::text(proposal->sentence);
    EXPECT_NE(says.find(c.says), std::string::npos) << c.rule << ": " << says;
    EXPECT_EQ(says.find('['), std::string::npos) << says;
    const Yard after = edit::apply(before->yard, proposal->change);
    const assess::AssessmentPtr mended = assess::assess(after);
    const auto close = [](const findings::Report& r) {
      return findings::countOf(r, findings::Severity::CloseToLimit);
    };
    if (const auto more = close(findings::report(*mended)) - close(report); target->rule != "low_margin") {
      EXPECT_EQ(proposal->effect.key.empty(), more <= 0) << c.rule;
      if (more > 0) {
        EXPECT_EQ(base::text(proposal->effect).find('['), std::string::npos) << base::text(proposal->effect);
      }
    }
    assess::margins(*mended);  // else nothing could say that a run may go low
    const findings::Report then = findings::report(*mended);
    for (const Finding& f : then.findings)
      EXPECT_FALSE(f.rule == target->rule && f.subjects.front() == target->subjects.front() &&
                   f.severity <= target->severity && f.condition == target->condition)
          << c.rule << " is still there: " << base::text(f.sentence);
    EXPECT_TRUE(edit::apply(after, edit::reversed(proposal->change)) == before->yard) << c.rule;
  }
}

// Putting a null pixel into one gap once made the next gap's finding look like a new one, so nothing was
// offered.
TEST(Remedy, IsOfferedForEachOfTwoGapsOfOneRun) {
  TestYard y;
  const Id third = y.addProp("ring", "Ring 3", at(2.4, 7.6));
  y.set<Prop>(y.arch, [](Prop& p) { p.at = at(8.6, 3); });
  y.set<Prop>(third, [](Prop& p) { p.at = at(15.6, 3); });
  y.set<yard::Run>(y.run, [&](yard::Run& r) { r.items.push_back(TestYard::stretch(third)); });
  const assess::AssessmentPtr a = assessed(y);
  const findings::Report report = findings::report(*a);
  int gaps = 0;
  for (const Finding& f : report.findings) {
    if (f.rule != "data_reach" || f.severity != findings::Severity::WontWork) continue;
    ++gaps;
    EXPECT_TRUE(propose::remedy(a, report, f)) << base::text(f.sentence);
  }
  EXPECT_EQ(gaps, 2);
}

TEST(Remedy, IsTheSameEveryTime) {
  TestYard y;
  remedyCases()[0].breakIt(y);
  const assess::AssessmentPtr a = assessed(y);
  const findings::Report report = findings::report(*a);
  for (const Finding& f : report.findings) {
    const auto first = propose::remedy(a, report, f), second = propose::remedy(a, report, f);
    ASSERT_EQ(first.has_value(), second.has_value());
    if (first) {
      EXPECT_EQ(base::text(first->sentence), base::text(second->sentence));
    }
  }
}

TEST(FeedAt, TakesTheNearestFreeFusePositionAndTheUsualWire) {
  TestYard y;
  y.addFeed(y.fuses[0], y.ring, 1);
  const auto proposal = propose::feedAt(assessed(y), y.run, 80);
  ASSERT_TRUE(proposal);
  const Yard after = edit::apply(y.e.yard(), proposal->change);
  const Id feed = feedOnFusePosition(after, y.fuses[1]);
  ASSERT_TRUE(feed) << base::text(proposal->sentence);
  const Cable& cable = *find<Cable>(after, feed);
  EXPECT_EQ(cable.to.record, y.arch);
  EXPECT_EQ(cable.wire, settings(after).usualFeed);
  EXPECT_FALSE(cable.cutPositive);
}

}  // namespace yw::testyard
