// Each rule has a yard that raises it and a repaired twin that does not.
#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <functional>
#include <map>

#include "core/base/quantity.h"
#include "core/catalog/conductors.h"
#include "tests/core/findings/test_yard.h"

namespace yw::testyard {

using findings::Finding;
using findings::Severity;

struct RuleCase {
  std::string rule;
  Severity severity;
  std::function<void(TestYard&)> breakIt, mendIt;
};

void brightness(TestYard& y, std::int64_t percent) {
  y.set<Settings>(settingsId(y.e.yard()), [&](Settings& s) { s.brightnessLimit = {percent * 10'000}; });
}
void usualProduct(TestYard& y, Id product) {
  y.set<Settings>(settingsId(y.e.yard()), [&](Settings& s) { s.usualProduct = product; });
}

void smallBox(TestYard& y) {
  y.set<Box>(y.box, [](Box& b) {
    b.insideWidth = base::inches(4);
    b.insideHeight = base::inches(3);
    b.insideDepth = base::inches(2);
  });
}
/// 1.5 A of line for what the sound yard gives.
void poorFactor(TestYard& y) {
  y.set<Supply>(y.supply, [](Supply& s) { s.powerFactor = {100'000}; });
}

Measurement measuredAt(Id prop, std::int64_t microvolts) {
  Measurement m;
  m.at = {TerminalKind::PropPixel, prop, 37};
  m.volts = {microvolts};
  return m;
}

std::vector<RuleCase> cases() {
  static Id extra, extra2;
  return {
      {"low_volts", Severity::WontWork,
       [](TestYard& y) {
         extra = y.addLongRun(y.ports[1], 4);
         brightness(y, 60);
       },
       [](TestYard& y) { brightness(y, 15); }},
      {"will_not_light", Severity::WontWork,
       [](TestYard& y) { y.set<Run>(y.run, [](Run& r) { r.portPower = false; }); },
       [](TestYard& y) { y.set<Run>(y.run, [](Run& r) { r.portPower = true; }); }},
      {"port_pixels", Severity::WontWork,
       [](TestYard& y) { y.set<Controller>(y.controller, [](Controller& c) { c.pixelsPerPort = 50; }); },
       [](TestYard& y) { y.set<Controller>(y.controller, [](Controller& c) { c.pixelsPerPort = 1024; }); }},
      {"port_amps", Severity::WontWork,
       [](TestYard& y) { y.set<Port>(y.ports[0], [](Port& p) { p.limit = {1'000'000}; }); },
       [](TestYard& y) { y.set<Port>(y.ports[0], [](Port& p) { p.limit = {5'000'000}; }); }},
      {"section_amps", Severity::WontWork,
       [](TestYard& y) {
         y.set<Controller>(y.controller, [](Controller& c) { c.sections[0].limit = {1'000'000}; });
       },
       [](TestYard& y) {
         y.set<Controller>(y.controller, [](Controller& c) { c.sections[0].limit = {30'000'000}; });
       }},
      {"fuse_and_wire", Severity::Danger,
       [](TestYard& y) { y.set<Port>(y.ports[0], [](Port& p) { p.fuse = {15'000'000}; }); },
       [](TestYard& y) { y.set<Port>(y.ports[0], [](Port& p) { p.fuse = {4'000'000}; }); }},
      {"fuse_load", Severity::WontWork,
       [](TestYard& y) { y.set<Port>(y.ports[0], [](Port& p) { p.fuse = {1'000'000}; }); },
       [](TestYard& y) { y.set<Port>(y.ports[0], [](Port& p) { p.fuse = {4'000'000}; }); }},
      {"fuse_opens_at_full_white", Severity::Note,
       [](TestYard& y) { y.set<Port>(y.ports[0], [](Port& p) { p.fuse = {3'000'000}; }); },
       [](TestYard& y) {
         y.set<Run>(y.run, [](Run& r) { r.items.pop_back(); });
         y.set<Port>(y.ports[0], [](Port& p) { p.fuse = {4'000'000}; });
       }},
      {"supply_load", Severity::WontWork,
       [](TestYard& y) { y.set<Supply>(y.supply, [](Supply& s) { s.ratedAmps = {1'000'000}; }); },
       [](TestYard& y) { y.set<Supply>(y.supply, [](Supply& s) { s.ratedAmps = {29'000'000}; }); }},
      {"conductor_limit", Severity::Danger,
       [](TestYard& y) {
         brightness(y, 100);
         extra = y.addLongRun(y.ports[1], 4);
         y.set<Wire>(settings(y.e.yard()).usualLead, [](Wire& w) { w.limit = {3'000'000}; });
       },
       [](TestYard& y) {
         brightness(y, 20);
         y.set<Wire>(settings(y.e.yard()).usualLead, [](Wire& w) { w.limit = {6'000'000}; });
         y.e.remove(extra);
       }},
      {"data_reach", Severity::WontWork,
       [](TestYard& y) { y.set<Prop>(y.ring, [](Prop& p) { p.at = at(30, 3); }); },
       [](TestYard& y) { y.set<Prop>(y.ring, [](Prop& p) { p.at = at(2, 3); }); }},
      {"receiver_reach", Severity::WontWork,
       [](TestYard& y) {
         Box far;
         far.name = "K2";
         far.at = at(120, 0);
         extra = y.e.add(far);
         Receiver r;
         r.name = "R1";
         r.box = extra;
         r.controller = y.controller;
         y.e.add(r);
       },
       [](TestYard& y) { y.set<Box>(extra, [](Box& b) { b.at = at(20, 0); }); }},
      {"mixed_volts", Severity::Danger,
       [](TestYard& y) { y.set<Prop>(y.arch, [&](Prop& p) { p.product = y.product("5 V node"); }); },
       [](TestYard& y) { y.set<Prop>(y.arch, [](Prop& p) { p.product = {}; }); }},
      {"mixed_chips", Severity::WontWork,
       [](TestYard& y) {
         y.set<Prop>(y.arch, [&](Prop& p) { p.product = y.product("12 V strip, four colors"); });
       },
       [](TestYard& y) { y.set<Prop>(y.arch, [](Prop& p) { p.product = {}; }); }},
      {"address_overlap", Severity::WontWork,
       [](TestYard& y) {
         extra = y.addProp("ring", "Ring 2", at(2, 5.5));
         extra2 = y.addRun(y.ports[1], {extra});
         for (const Id id : {y.run, extra2})
           y.set<Run>(id, [](Run& r) {
             r.startUniverse = 3;
             r.startSlot = 1;
           });
       },
       [](TestYard& y) { y.set<Run>(extra2, [](Run& r) { r.startUniverse = 5; }); }},
      {"circuit_load", Severity::Danger,
       [](TestYard& y) {
         OtherLoad freezer;
         freezer.name = "Freezer";
         freezer.circuit = y.circuit;
         freezer.amps = {16'000'000};
         extra = y.e.add(freezer);
       },
       [](TestYard& y) { y.set<OtherLoad>(extra, [](OtherLoad& l) { l.amps = {2'000'000}; }); }},
      {"crossing", Severity::Danger,
       [](TestYard& y) { extra = y.addArea(FeatureKind::Walk, -50, 1, 50, 2, false); },
       [](TestYard& y) { y.set<GroundFeature>(extra, [](GroundFeature& f) { f.crossingAllowed = true; }); }},
      {"keep_out", Severity::Danger,
       [](TestYard& y) { y.addArea(FeatureKind::KeepOut, 4, 2.5, 5, 3.5, true); },
       [](TestYard& y) { y.set<Prop>(y.arch, [](Prop& p) { p.at = at(7.5, 3); }); }},
      {"below_ground", Severity::WontWork,
       [](TestYard& y) { y.set<Prop>(y.arch, [](Prop& p) { p.base = m(-0.3); }); },
       [](TestYard& y) { y.set<Prop>(y.arch, [](Prop& p) { p.base = m(0); }); }},
      {"plugs", Severity::Note,
       [](TestYard& y) {
         for (const auto& [id, wire] : all<Wire>(y.e.yard()))
           y.set<Wire>(id, [](Wire& w) { w.plug = "Tall collar"; });
         y.set<Controller>(y.controller, [](Controller& c) { c.plug = "Short collar"; });
       },
       [](TestYard& y) { y.set<Controller>(y.controller, [](Controller& c) { c.plug = "Tall collar"; }); }},
      {"group_parted", Severity::Note,
       [](TestYard& y) {
         extra = y.addController(y.box, y.supply);
         y.set<Port>(y.addPort(extra, 1), [](Port&) {});
         y.addRun(portsOf(y.e.yard(), extra).front().first, {y.addProp("ring", "Ring 2", at(3, 6))});
         for (const auto& [id, prop] : all<Prop>(y.e.yard()))
           y.set<Prop>(id, [](Prop& p) { p.group = "Lawn"; });
       },
       [](TestYard& y) {
         y.set<Prop>(y.ring, [](Prop& p) { p.group = {}; });
         y.set<Prop>(y.arch, [](Prop& p) { p.group = {}; });
       }},
      {"sight_triangle", Severity::WontWork,
       [](TestYard& y) {
         extra = y.addArea(FeatureKind::SightTriangle, 4, 2.5, 5, 3.5, false);
         y.set<GroundFeature>(extra, [](GroundFeature& f) {
           f.clearFrom = m(0.3);
           f.clearTo = m(2.5);
         });
       },
       [](TestYard& y) { y.set<GroundFeature>(extra, [](GroundFeature& f) { f.clearFrom = m(2.4); }); }},
      {"positives_joined", Severity::Danger,
       [](TestYard& y) {
         const Id second = y.addSupply(y.box, y.outlet2, 12, 29);
         extra = y.addFeed(y.addFuse(second, 1), y.arch, 10);
       },
       [](TestYard& y) { y.set<Cable>(extra, [](Cable& c) { c.cutPositive = true; }); }},
      {"owned_lead_short", Severity::WontWork,
       [](TestYard& y) {
         Cable lead;
         lead.from = {TerminalKind::Port, y.ports[0], 0};
         lead.to = {TerminalKind::PropIn, y.ring, 0};
         lead.conductors = ConductorSet::PowerAndData;
         lead.ownLength = m(1);
         extra = y.e.add(lead);
         y.set<Run>(y.run, [](Run& r) { r.items[0].lead = extra; });
       },
       [](TestYard& y) { y.set<Cable>(extra, [](Cable& c) { c.ownLength = m(12); }); }},
      {"prop_unknown", Severity::WontWork,
       [](TestYard& y) { y.set<Prop>(y.ring, [](Prop& p) { p.sizes["pitch"] = m(50).count; }); },
       [](TestYard& y) { y.set<Prop>(y.ring, [](Prop& p) { p.sizes.erase("pitch"); }); }},
      {"shape_warning", Severity::Note,
       [](TestYard& y) {
         extra = y.addProp("cone_tree", "Tree 1", at(9, 6));
         y.set<Prop>(extra, [](Prop& p) { p.sizes["top_diameter"] = base::inches(2).count; });
       },
       [](TestYard& y) {
         y.set<Prop>(extra, [](Prop& p) { p.sizes = shapes::usualProp("cone_tree").sizes; });
       }},
      {"past_the_end", Severity::WontWork, [](TestYard& y) { y.addFeed(y.fuses[0], y.ring, 60); },
       [](TestYard& y) {
         y.set<Prop>(y.ring, [](Prop& p) { p.sizes["diameter"] = base::inches(60).count; });
       }},
      {"resting_strung", Severity::Note,
       [](TestYard& y) { y.set<Prop>(y.ring, [](Prop& p) { p.status = PropStatus::NotThisYear; }); },
       [](TestYard& y) { y.set<Prop>(y.ring, [](Prop& p) { p.status = PropStatus::Building; }); }},
      {"universes_full", Severity::WontWork,
       [](TestYard& y) {
         y.addLongRun(y.ports[1], 6);
         y.set<Controller>(y.controller, [](Controller& c) { c.universes = 1; });
       },
       [](TestYard& y) { y.set<Controller>(y.controller, [](Controller& c) { c.universes = 40; }); }},
      {"picture_scale", Severity::Note,
       [](TestYard& y) {
         y.set<Site>(siteId(y.e.yard()), [](Site& s) {
           s.photo = "0";
           s.checkFrom = at(0, 0);
           s.checkTo = at(10, 0);
           s.checkDistance = m(10.5);
         });
       },
       [](TestYard& y) { y.set<Site>(siteId(y.e.yard()), [](Site& s) { s.checkDistance = m(10.05); }); }},
      {"supply_unplugged", Severity::Note,
       [](TestYard& y) { y.set<Supply>(y.supply, [](Supply& s) { s.outlet = {}; }); },
       [](TestYard& y) { y.set<Supply>(y.supply, [&](Supply& s) { s.outlet = y.outlet; }); }},
      {"supply_hot", Severity::WontWork,
       [](TestYard& y) {
         y.set<Settings>(settingsId(y.e.yard()), [](Settings& s) { s.ambient = {49'000}; });
         smallBox(y);
       },
       [](TestYard& y) { y.set<Box>(y.box, [](Box& b) { b.cooling = BoxCooling::OpenAir; }); }},
      {"gfci_leakage", Severity::WontWork,
       [](TestYard& y) { y.set<Supply>(y.supply, [](Supply& s) { s.leakage = {4'500}; }); },
       [](TestYard& y) { y.set<Supply>(y.supply, [](Supply& s) { s.leakage = {750}; }); }},
      {"gfci_missing", Severity::Danger,
       [](TestYard& y) { y.set<HouseCircuit>(y.circuit, [](HouseCircuit& c) { c.groundFault = false; }); },
       [](TestYard& y) { y.set<Supply>(y.supply, [&](Supply& s) { s.outlet = y.outlet2; }); }},
      {"receptacle_load", Severity::WontWork,
       [](TestYard& y) {
         poorFactor(y);
         y.set<Outlet>(y.outlet, [](Outlet& o) { o.receptacle = {1'800'000}; });
       },
       [](TestYard& y) { y.set<Outlet>(y.outlet, [](Outlet& o) { o.receptacle = {15'000'000}; }); }},
      {"cord_load", Severity::Danger,
       [](TestYard& y) { y.set<Wire>(y.wire("12/3 cord"), [](Wire& w) { w.limit = {200'000}; }); },
       [](TestYard& y) { y.set<Wire>(y.wire("12/3 cord"), [](Wire& w) { w.limit = {15'000'000}; }); }},
      {"cord_drop", Severity::CloseToLimit,
       [](TestYard& y) {
         poorFactor(y);
         y.set<Outlet>(y.outlet, [](Outlet& o) { o.at = at(-300, 0); });
       },
       [](TestYard& y) { y.set<Outlet>(y.outlet, [](Outlet& o) { o.at = at(-30, 0); }); }},
      {"cord_chain", Severity::CloseToLimit,
       [](TestYard& y) {
         extra = y.addBoxCord({TerminalKind::Outlet, y.outlet, 0}, y.box);
         y.set<Cable>(extra, [](Cable& c) { c.pieces = 3; });
       },
       [](TestYard& y) { y.set<Cable>(extra, [](Cable& c) { c.pieces = 2; }); }},
      {"inrush", Severity::Note,
       [](TestYard& y) {
         for (int i = 0; i < 4; ++i) y.addSupply(y.box, y.outlet, 12, 29);
       },
       [](TestYard& y) { y.set<HouseCircuit>(y.circuit, [](HouseCircuit& c) { c.staggered = true; }); }},
      {"low_margin", Severity::CloseToLimit,
       [](TestYard& y) {
         brightness(y, 50);
         y.set<Settings>(settingsId(y.e.yard()), [](Settings& s) { s.lowChance = {1'000}; });
         y.set<Supply>(y.supply, [](Supply& s) { s.voltageSpread = {200'000}; });
       },
       [](TestYard& y) { y.set<Supply>(y.supply, [](Supply& s) { s.voltageSpread = {5'000}; }); }},
      {"measured_differs", Severity::CloseToLimit,
       [](TestYard& y) { extra = y.e.add(measuredAt(y.arch, 9'000'000)); },
       [](TestYard& y) { y.set<Measurement>(extra, [](Measurement& m) { m.volts = {9'900'000}; }); }},
      {"measurement_unused", Severity::Note, [](TestYard& y) { extra = y.e.add(measuredAt(y.arch, 0)); },
       [](TestYard& y) { y.set<Measurement>(extra, [](Measurement& m) { m.volts = {11'500'000}; }); }},
      {"feed_lost", Severity::Danger,
       [](TestYard& y) {
         brightness(y, 100);
         y.set<Port>(y.ports[0], [](Port& p) { p.fuse = {3'000'000}; });
         y.addFeed(y.fuses[0], y.arch, 37);
       },
       [](TestYard& y) { brightness(y, 15); }},
      {"short_not_cleared", Severity::Danger,
       [](TestYard& y) { y.set<Port>(y.ports[0], [](Port& p) { p.fuse = {15'000'000}; }); },
       [](TestYard& y) { y.set<Port>(y.ports[0], [](Port& p) { p.fuse = {4'000'000}; }); }},
      {"zero_open", Severity::WontWork,
       [](TestYard& y) {
         extra = y.addLead(ConductorSet::PositiveOnly);
         y.set<Run>(y.run, [](Run& r) { r.items[0].lead = extra; });
       },
       [](TestYard& y) { y.set<Cable>(extra, [](Cable& c) { c.conductors = ConductorSet::PowerAndData; }); }},
      {"thin_return", Severity::Danger,
       [](TestYard& y) {
         brightness(y, 100);
         y.set<Run>(y.run, [](Run& r) { r.portPower = false; });
         extra = y.addFeed(y.fuses[0], y.ring, 1);
         y.set<Cable>(extra, [](Cable& c) { c.conductors = ConductorSet::PositiveOnly; });
         y.set<Wire>(settings(y.e.yard()).usualLead, [](Wire& w) { w.limit = {2'000'000}; });
       },
       [](TestYard& y) {
         brightness(y, 15);
         y.set<Wire>(settings(y.e.yard()).usualLead, [](Wire& w) { w.limit = {6'000'000}; });
       }},
      {"pink_white", Severity::CloseToLimit,
       [](TestYard& y) {
         extra = y.addLongRun(y.ports[1], 4);
         brightness(y, 60);
       },
       [](TestYard& y) { brightness(y, 15); }},
  };
}

TEST(Rules, SoundYardRaisesNothingGrave) {
  const TestYard y;
  for (const Finding& f : findings::report(*assessed(y)).findings)
    EXPECT_GT(f.severity, Severity::WontWork) << f.rule << ": " << base::text(f.sentence);
}

TEST(Rules, EveryRuleHasAYardThatRaisesItAndARepairedTwin) {
  std::map<std::string, bool> covered;
  for (const RuleCase& c : cases()) {
    TestYard y;
    EXPECT_TRUE(found(y, c.rule).empty()) << c.rule << " is raised by the sound yard";
    c.breakIt(y);
    const std::vector<Finding> raised = found(y, c.rule);
    ASSERT_FALSE(raised.empty()) << c.rule;
    EXPECT_TRUE(std::any_of(raised.begin(), raised.end(), [&](const Finding& f) {
      return f.severity == c.severity;
    })) << c.rule;
    c.mendIt(y);
    const std::vector<Finding> left = found(y, c.rule);
    EXPECT_TRUE(left.empty()) << c.rule << ": " << base::text(left.front().sentence);
    covered[c.rule] = true;
  }
  for (const findings::Rule& rule : findings::rules())
    EXPECT_TRUE(covered[rule.key]) << rule.key << " has no yard";
}

TEST(Rules, EveryFindingSaysWhatWhereHowMuchAndByWhichRule) {
  for (const RuleCase& c : cases()) {
    TestYard y;
    c.breakIt(y);
    for (const Finding& f : found(y, c.rule)) {
      EXPECT_FALSE(f.subjects.empty()) << c.rule;
      EXPECT_FALSE(f.source.empty()) << c.rule;
      EXPECT_GT(f.used, 0.0) << c.rule;
      for (const base::Message& message : {f.sentence, f.advice}) {
        const std::string said = base::text(message);
        EXPECT_EQ(said.find('['), std::string::npos) << c.rule << ": " << said;
        EXPECT_FALSE(said.empty()) << c.rule;
      }
    }
  }
}

TEST(Rules, TableNamesTheFileOfEachVerdict) {
  for (const findings::Rule& rule : findings::rules())
    EXPECT_TRUE(std::ifstream(std::string(YARDWRIGHT_ROOT) + "/" + rule.file).good()) << rule.file;
}

TEST(Report, PutsTheWorstFirstAndGroupsAlike) {
  TestYard y;
  for (int i = 0; i < 4; ++i)
    y.set<Port>(y.ports[static_cast<std::size_t>(i)], [](Port& p) { p.fuse = {15'000'000}; });
  for (int i = 1; i < 4; ++i)
    y.addRun(y.ports[static_cast<std::size_t>(i)],
             {y.addProp("ring", "Ring " + std::to_string(i + 1), at(2 + 3 * i, 8))});
  const findings::Report report = findings::report(*assessed(y));
  ASSERT_FALSE(report.findings.empty());
  for (std::size_t i = 1; i < report.findings.size(); ++i)
    EXPECT_LE(report.findings[i - 1].severity, report.findings[i].severity);
  ASSERT_FALSE(report.groups.empty());
  EXPECT_EQ(report.groups[0].rule, "fuse_and_wire");
  EXPECT_EQ(report.groups[0].findings.size(), 4u);
  EXPECT_NE(base::text(report.groups[0].sentence).find("4 places"), std::string::npos);
  EXPECT_TRUE(report.failing);
}

// A short that would let 3.98 A through once made the advice ask for a fuse of 3.98 A.
TEST(Advice, NamesOnlyFusesThatAreSold) {
  int named = 0;
  for (const RuleCase& c : cases()) {
    TestYard y;
    c.breakIt(y);
    for (const Finding& f : findings::report(*assessed(y)).findings) {
      const auto fuse = f.advice.facts.find("fuse");
      if (fuse == f.advice.facts.end()) continue;
      const auto* rating = std::get_if<base::Current>(&fuse->second);
      ASSERT_TRUE(rating) << base::text(f.advice);
      const auto& series = catalog::fuseSeries();
      const bool said = base::text(f.advice).find(base::text(*rating)) != std::string::npos;
      if (said) ++named;
      EXPECT_TRUE(!said || std::find(series.begin(), series.end(), *rating) != series.end())
          << base::text(f.advice);
    }
  }
  EXPECT_GE(named, 3);
}

// The 7.5 A fuse behind 18 AWG that may carry 6 A: 5 A is the largest that is sold below, and lasts.
TEST(Advice, FuseForTheWireLastsUnderItsLoad) {
  TestYard y;
  y.set<Port>(y.ports[0], [](Port& p) { p.fuse = {15'000'000}; });
  const auto lasting = found(y, "fuse_and_wire");
  ASSERT_FALSE(lasting.empty());
  EXPECT_EQ(lasting[0].advice.key, "fuse_and_wire_advice");
  brightness(y, 100);
  y.set<Wire>(settings(y.e.yard()).usualLead, [](Wire& w) { w.limit = {3'500'000}; });
  const auto failing = found(y, "fuse_and_wire");
  ASSERT_FALSE(failing.empty());
  EXPECT_EQ(failing[0].advice.key, "fuse_and_wire_thicker_advice");
}

TEST(PinkWhite, SaysThatAColorIsGoneInsteadOfAShareOfNothing) {
  TestYard y;
  y.addLongRun(y.ports[1], 8);
  brightness(y, 100);
  const auto all = found(y, "pink_white");
  ASSERT_FALSE(all.empty());
  EXPECT_EQ(all[0].sentence.key, "pink_white_gone") << base::text(all[0].sentence);
}

TEST(Report, KeepsWhatIsLeftAsItIsUntilItsFigureGetsWorse) {
  TestYard y;
  y.set<Port>(y.ports[0], [](Port& p) { p.fuse = {10'000'000}; });
  const Finding f = found(y, "fuse_and_wire").at(0);
  LeftAsIs left{f.rule, f.subjects, f.condition, std::llround(f.used * 1e6), "the lead is two inches long"};
  y.e.add(left);
  const findings::Report report = findings::report(*assessed(y));
  EXPECT_TRUE(found(y, "fuse_and_wire").empty());
  ASSERT_EQ(report.left.size(), 1u);
  EXPECT_EQ(report.left[0].leftReason, left.reason);
  y.set<Port>(y.ports[0], [](Port& p) { p.fuse = {15'000'000}; });
  EXPECT_EQ(found(y, "fuse_and_wire").size(), 1u);
}

TEST(Report, TellsNotWiredApartFromFaults) {
  TestYard y;
  const Id lonely = y.addProp("ring", "Ring 9", at(9, 9));
  const findings::Report report = findings::report(*assessed(y));
  EXPECT_EQ(report.notWired, std::vector<Id>{lonely});
  EXPECT_FALSE(report.failing);
}

// NEC 210.20(A), 210.23: 15 A breaker, 12 A continuous.
TEST(CircuitLoad, AllowsTwelveAmpsOnFifteen) {
  TestYard y;
  OtherLoad load;
  load.circuit = y.circuit2;
  load.amps = {12'000'000};
  const Id id = y.e.add(load);
  const auto only = [&] {
    std::vector<Finding> grave;
    for (const Finding& f : found(y, "circuit_load"))
      if (f.severity < Severity::CloseToLimit) grave.push_back(f);
    return grave;
  };
  EXPECT_TRUE(only().empty());
  y.set<OtherLoad>(id, [](OtherLoad& l) { l.amps = {12'000'100}; });
  EXPECT_EQ(only().size(), 1u);
}

// UL 943: Class A trips at 6 mA and not below 4 mA; common practice plans on 3 mA.
TEST(GfciLeakage, IsCloseFromTheBudgetAndOverFromWhatItHolds) {
  TestYard y;
  const auto severityAt = [&](std::int64_t microamps) {
    y.set<Supply>(y.supply, [&](Supply& s) { s.leakage = {microamps}; });
    const auto all = found(y, "gfci_leakage");
    return all.empty() ? Severity::Note : all.front().severity;
  };
  EXPECT_EQ(severityAt(3'000), Severity::Note);
  EXPECT_EQ(severityAt(3'100), Severity::CloseToLimit);
  EXPECT_EQ(severityAt(4'000), Severity::CloseToLimit);
  EXPECT_EQ(severityAt(4'100), Severity::WontWork);
  y.set<HouseCircuit>(y.circuit, [](HouseCircuit& c) { c.groundFault = false; });
  EXPECT_TRUE(found(y, "gfci_leakage").empty()) << "no GFCI to trip";
}

// 210.8(A)(3): 125 V receptacles in the 2017 edition, to 250 V since 2020.
TEST(GfciMissing, FollowsTheCodeEdition) {
  TestYard y;
  y.set<HouseCircuit>(y.circuit, [](HouseCircuit& c) {
    c.groundFault = false;
    c.voltage = {240'000'000};
  });
  const auto under = [&](CodeEdition edition) {
    y.set<Settings>(settingsId(y.e.yard()), [&](Settings& s) { s.codeEdition = edition; });
    return found(y, "gfci_missing");
  };
  EXPECT_TRUE(under(CodeEdition::Nec2017).empty());
  ASSERT_EQ(under(CodeEdition::Nec2020).size(), 1U);
  EXPECT_NE(under(CodeEdition::Nec2020).front().source.find("NEC 2020"), std::string::npos);
}

TEST(SupplyHot, IsOnlyCloseWhereTheBoxWasNotMeasured) {
  TestYard y;
  y.set<Settings>(settingsId(y.e.yard()), [](Settings& s) { s.ambient = {61'000}; });
  ASSERT_EQ(found(y, "supply_hot").size(), 1U);
  EXPECT_EQ(found(y, "supply_hot").front().severity, Severity::CloseToLimit);
}

TEST(CordChain, TellsOfAStripOnAStrip) {
  TestYard y;
  Box k2;
  k2.name = "K2";
  k2.at = at(3, 0);
  const Id far = y.e.add(k2);
  y.addSupply(far, y.outlet, 12, 29);
  y.addBoxCord({TerminalKind::Outlet, y.outlet, 0}, y.box);
  EXPECT_TRUE(found(y, "cord_chain").empty());
  const Id second = y.addBoxCord({TerminalKind::Box, y.box, 0}, far);
  ASSERT_EQ(found(y, "cord_chain").size(), 1U);
  EXPECT_EQ(found(y, "cord_chain").front().subjects.front(), second);
  EXPECT_NE(base::text(found(y, "cord_chain").front().sentence).find("K1"), std::string::npos);
}

}  // namespace yw::testyard
