// Planners over a whole yard: what they propose holds in the yard's own circuit, as one change.
#include "core/propose/trade_offs.h"

#include <gtest/gtest.h>

#include <array>
#include <cstdlib>
#include <random>

#include "core/edit/usual.h"
#include "core/propose/whole_plan.h"
#include "tests/core/findings/test_yard.h"

namespace yw::testyard {
namespace {

findings::Severity worstOf(const findings::Report& report, const std::string& rule) {
  auto worst = findings::Severity::Note;
  for (const findings::Finding& f : report.findings)
    if (f.rule == rule) worst = std::min(worst, f.severity);
  return worst;
}

/// The yard without runs and feeds: bare props and boxes.
Yard bare(const Yard& yard) {
  edit::Editor editor(yard);
  std::vector<Id> gone;
  for (const auto& [id, run] : all<Run>(yard)) gone.push_back(id);
  for (const auto& [id, cable] : all<Cable>(yard)) gone.push_back(id);
  editor.remove(gone);
  return editor.yard();
}

/// Ports with their feeds, then addresses, then covers.
assess::AssessmentPtr planned(const Yard& yard, std::vector<propose::PlanStep>* cannot = nullptr) {
  assess::AssessmentPtr now = assess::assess(yard);
  for (const auto plan : {propose::planPortsOf, propose::planAddressesOf, propose::planCoversOf}) {
    const propose::YardPlan part = plan(now);
    EXPECT_TRUE(edit::apply(edit::apply(now->yard, part.change), edit::reversed(part.change)) == now->yard);
    if (cannot) cannot->insert(cannot->end(), part.cannot.begin(), part.cannot.end());
    now = assess::assess(edit::apply(now->yard, part.change), now);
  }
  return now;
}

TEST(FeedsOfYard, MakeALongRunHoldWithRoomAsOneChange) {
  TestYard y;
  const Id run = y.addLongRun(y.ports[1], 7);
  y.set<Settings>(settingsId(y.e.yard()), [](Settings& s) { s.brightnessLimit = {450'000}; });
  const auto before = assessed(y);
  ASSERT_EQ(worstOf(findings::report(*before), "low_volts"), findings::Severity::WontWork);
  const propose::YardPlan plan = propose::planFeedsOf(before);
  ASSERT_TRUE(plan.cannot.empty());
  ASSERT_EQ(plan.steps.size(), 1U) << "the short run is left alone";
  EXPECT_EQ(plan.steps[0].subject, run);
  const std::string says = base::text(plan.steps[0].reason);
  EXPECT_NE(says.find("fuse"), std::string::npos) << says;
  EXPECT_EQ(says.find('['), std::string::npos) << says;
  EXPECT_LE(plan.bound, plan.costAfter + 1e-9);
  const Yard after = edit::apply(before->yard, plan.change);
  const auto report = findings::report(*assess::assess(after));
  for (const char* rule : {"low_volts", "will_not_light", "fuse_load", "port_amps", "fuse_and_wire"})
    EXPECT_EQ(worstOf(report, rule), findings::Severity::Note) << rule;
  EXPECT_TRUE(edit::apply(after, edit::reversed(plan.change)) == before->yard);
  EXPECT_TRUE(propose::planFeedsOf(assess::assess(after)).change.empty())
      << "planned once, nothing to better";
}

// No supply can give what the run takes: it hangs on two or three, V+ cut between them, each within what may
// be planned on it.
TEST(FeedsOfYard, ShareARunOverSuppliesThatAreEachTooSmall) {
  for (const double share : {0.7, 0.45}) {
    TestYard y;
    const Id run = y.addLongRun(y.ports[1], 7);
    y.set<Settings>(settingsId(y.e.yard()), [](Settings& s) { s.brightnessLimit = {450'000}; });
    const double usable = base::fraction(settings(y.e.yard()).supplyUsable);
    const propose::YardPlan one = propose::planFeedsOf(assessed(y));
    const auto fed = assess::assess(edit::apply(y.e.yard(), one.change));
    const double amps = fed->limit.supplies.at(y.supply).amps;
    y.set<Supply>(y.supply, [&](Supply& s) { s.ratedAmps = base::toCurrent({share * amps / usable}); });
    for (int i = 0; i < 2; ++i) y.e.add(*find<Supply>(y.e.yard(), y.supply));
    const auto before = assessed(y);
    const propose::YardPlan plan = propose::planFeedsOf(before);
    EXPECT_TRUE(plan.cannot.empty()) << share << base::text(plan.cannot[0].reason);
    const auto after = assess::assess(edit::apply(before->yard, plan.change));
    std::size_t giving = 0;
    for (const auto& [id, figure] : after->limit.supplies) {
      EXPECT_LE(figure.amps, usable * base::amps(find<Supply>(after->yard, id)->ratedAmps).si + 1e-6)
          << share;
      giving += figure.amps > 0.1 ? 1 : 0;
    }
    EXPECT_GE(giving, share > 0.5 ? 2U : 3U);
    std::size_t cuts = 0;
    for (const auto& [id, cable] : all<Cable>(after->yard)) cuts += cable->cutPositive ? 1 : 0;
    EXPECT_GE(cuts, giving - 1);
    const auto report = findings::report(*after);
    for (const char* rule : {"low_volts", "will_not_light", "fuse_load", "port_amps", "fuse_and_wire",
                             "supply_load", "positives_joined"})
      EXPECT_GT(worstOf(report, rule), findings::Severity::WontWork) << rule << share;
    EXPECT_NE(find<yard::Run>(after->yard, run), nullptr);
  }
}

// Supplies for a section that takes more than any supply gives: the rest hangs on a supply of its own, and
// the ports then count on both.
TEST(SuppliesOfYard, ASectionTooLargeForOneSupplyGetsAnotherBesideIt) {
  TestYard y;
  y.set<Settings>(settingsId(y.e.yard()), [](Settings& s) { s.brightnessLimit = {600'000}; });
  for (int i = 0; i < 7; ++i) y.addProp("small_cone_tree", "Tree " + std::to_string(i), at(2 * i, 5));
  y.set<Supply>(y.supply, [](Supply& s) { s.ratedAmps = {15'000'000}; });
  const auto before = assess::assess(bare(y.e.yard()));
  const propose::YardPlan plan = propose::planSuppliesOf(before);
  EXPECT_TRUE(plan.cannot.empty());
  const Yard with = edit::apply(before->yard, plan.change);
  EXPECT_GT(all<Supply>(with).size(), all<Supply>(before->yard).size());
  const auto after = planned(with);
  EXPECT_TRUE(after->unwired.empty());
  for (const findings::Finding& f : findings::report(*after).findings)
    if (f.rule == "supply_load") {
      EXPECT_GT(f.severity, findings::Severity::WontWork) << base::text(f.sentence);
    }
}

/// Props on empty ground, nothing else.
Yard onlyProps(int arches) {
  edit::Editor editor(emptyYard());
  const Id product = editor.add(Product{});
  for (int i = 0; i < arches; ++i) {
    Prop prop = shapes::usualProp("arch");
    prop.name = "Arch " + std::to_string(i + 1);
    prop.product = product;
    prop.at = base::point(base::Vec2{3.0 * i, 0.0});
    editor.add(prop);
  }
  return editor.yard();
}

TEST(ControllersOfYard, BareGroundGetsABoxWithAPortForEachProp) {
  const Yard yard = onlyProps(6);
  const propose::YardPlan plan = propose::planControllersOf(assess::assess(yard));
  const Yard after = edit::apply(yard, plan.change);
  const auto controllers = all<Controller>(after);
  ASSERT_EQ(controllers.size(), 1U);
  const auto& [id, controller] = controllers.front();
  EXPECT_NE(find<Box>(after, controller->box), nullptr);
  EXPECT_EQ(portsOf(after, id).size(), 8U) << "6 props: the smallest size that has 6 ports";
  EXPECT_EQ(plan.steps.size(), 2U);
  for (const auto& step : plan.steps) EXPECT_EQ(base::text(step.reason).find('['), std::string::npos);
  EXPECT_TRUE(edit::apply(after, edit::reversed(plan.change)) == yard);
  EXPECT_TRUE(propose::planControllersOf(assess::assess(after)).change.empty()) << "its ports are free";
}

TEST(ControllersOfYard, NothingWhereFreePortsSuffice) {
  TestYard y;
  EXPECT_TRUE(propose::planControllersOf(assessed(y)).change.empty());
}

TEST(ControllersOfYard, MoreThanOneControllerWhereOneDoesNotReach) {
  edit::Editor editor(onlyProps(1));
  for (const auto& [id, prop] : all<Prop>(editor.yard()))
    editor.update<Prop>(id, [](Prop& p) {
      p = [&] {
        Prop tree = shapes::usualProp("cone_tree");
        tree.product = p.product;
        tree.at = p.at;
        return tree;
      }();
    });
  const Id first = all<Prop>(editor.yard()).front().first;
  for (int i = 0; i < 24; ++i) {
    Prop tree = *find<Prop>(editor.yard(), first);
    tree.at = base::point(base::Vec2{5.0 * i, 8.0});
    editor.add(tree);
  }
  const Yard yard = editor.yard();
  const Yard after = edit::apply(yard, propose::planControllersOf(assess::assess(yard)).change);
  std::size_t ports = 0;
  for (const auto& [id, controller] : all<Controller>(after)) ports += portsOf(after, id).size();
  EXPECT_GE(ports, 25U + 3U) << "each tree has its own port, a tenth is spare";
}

TEST(ControllersOfYard, NewBoxesStandWhereNoPortReaches) {
  edit::Editor editor(onlyProps(60));  // a row of 180 m; a lead with boosters reaches some 21 m
  Outlet outlet;
  outlet.name = "Porch";
  outlet.circuit = edit::usualCircuit(editor);
  outlet.at = base::point(base::Vec2{4.0, 6.0});
  editor.add(outlet);
  const Yard yard = editor.yard();
  const propose::YardPlan plan = propose::planControllersOf(assess::assess(yard));
  const auto now = assess::assess(edit::apply(yard, plan.change));
  EXPECT_GE(all<Box>(now->yard).size(), 2U);
  EXPECT_LE(all<Box>(now->yard).size(), 9U);
  const propose::YardPlan ports = propose::planPortsOf(now);
  for (const auto& step : ports.cannot)
    EXPECT_NE(step.reason.key, "plan_cannot_reach") << base::text(step.reason);
}

// A receiver on a cheap cable costs less than a controller, as far as its pair reaches.
TEST(ControllersOfYard, AReceiverServesANewBoxWhereThatIsCheaper) {
  edit::Editor editor(onlyProps(8));
  int index = 0;
  for (const auto& [id, prop] : all<Prop>(editor.yard()))
    if (++index > 4) editor.update<Prop>(id, [](Prop& p) { p.at.x += m(40.0); });
  Outlet outlet;
  outlet.name = "Porch";
  outlet.circuit = edit::usualCircuit(editor);
  outlet.at = base::point(base::Vec2{4.0, 6.0});
  editor.add(outlet);
  std::vector<Id> pairs;
  for (const auto& [id, wire] : all<Wire>(editor.yard()))
    if (wire->conductors == ConductorSet::DataOnly) pairs.push_back(id);
  editor.remove(pairs);
  Wire pair;
  pair.name = "Data pair";
  pair.conductors = ConductorSet::DataOnly;
  pair.gauge = 24;
  pair.pricePerMetre = {2'000};
  editor.add(pair);
  const Yard yard = editor.yard();
  const propose::YardPlan plan = propose::planControllersOf(assess::assess(yard));
  const auto now = assess::assess(edit::apply(yard, plan.change));
  const auto receivers = all<Receiver>(now->yard);
  ASSERT_FALSE(receivers.empty());
  for (const auto& [id, receiver] : receivers) {
    EXPECT_NE(find<Controller>(now->yard, receiver->controller), nullptr);
    EXPECT_FALSE(portsOf(now->yard, id).empty());
    const auto link = now->routes.cables.find({routes::CableRole::ReceiverLink, id, 0});
    ASSERT_NE(link, now->routes.cables.end());
    EXPECT_LE(link->second.length(), base::metres(settings(now->yard).receiverReach).si);
  }
  std::size_t told = 0;
  for (const auto& step : plan.steps) {
    EXPECT_EQ(base::text(step.reason).find('['), std::string::npos);
    told += step.reason.key == "plan_receiver";
  }
  EXPECT_EQ(told, receivers.size());
  for (const findings::Finding& f : findings::report(*now).findings)
    if (f.rule == "receiver_reach") {
      EXPECT_GT(f.severity, findings::Severity::WontWork);
    }
  // Without them each would be a controller, and that is dearer.
  edit::Editor dear(yard);
  for (const auto& [id, wire] : all<Wire>(yard))
    if (wire->conductors == ConductorSet::DataOnly)
      dear.update<Wire>(id, [](Wire& w) { w.pricePerMetre = {1'000'000}; });
  const propose::YardPlan other = propose::planControllersOf(assess::assess(dear.yard()));
  EXPECT_TRUE(all<Receiver>(edit::apply(dear.yard(), other.change)).empty());
  EXPECT_LT(plan.costAfter, other.costAfter);
}

TEST(WholePlan, WiresBarePropsBesideAnOutletWithoutADanger) {
  edit::Editor editor(onlyProps(6));
  Outlet outlet;
  outlet.name = "Porch";
  outlet.circuit = edit::usualCircuit(editor);
  outlet.at = base::point(base::Vec2{4.0, 6.0});
  editor.add(outlet);
  std::set<std::string> wanted;
  for (const propose::PlanPart& part : propose::planParts()) wanted.insert(part.key);
  const propose::WholePlan whole = propose::planWhole(assess::assess(editor.yard()), wanted, false);
  EXPECT_TRUE(whole.met);
  EXPECT_TRUE(whole.after->unwired.empty());
  for (const findings::Finding& f : findings::report(*whole.after).findings)
    EXPECT_GT(f.severity, findings::Severity::WontWork) << f.rule;
}

TEST(FeedsOfYard, LeaveWhatIsKeptAsItIs) {
  TestYard y;
  const Id run = y.addLongRun(y.ports[1], 7);
  y.set<Settings>(settingsId(y.e.yard()), [](Settings& s) { s.brightnessLimit = {450'000}; });
  y.e.add(KeepAsIs{run, "feed"});
  EXPECT_TRUE(propose::planFeedsOf(assessed(y)).change.empty());
}

TEST(FeedsOfYard, SayWhichPixelCannotBeFedAndByHowMuch) {
  TestYard y;
  y.addLongRun(y.ports[1], 3);
  for (const auto& [id, product] : all<Product>(y.e.yard()))
    y.set<Product>(id, [](Product& p) { p.lowestVolts = {p.voltage.count - 1'000}; });
  const propose::YardPlan plan = propose::planFeedsOf(assessed(y));
  ASSERT_FALSE(plan.cannot.empty());
  EXPECT_EQ(plan.cannot[0].reason.key, "plan_cannot_volts");
  EXPECT_EQ(base::text(plan.cannot[0].reason).find('['), std::string::npos);
}

TEST(PortsOfYard, HangBarePropsOnPortsThatHoldThem) {
  TestYard y;
  y.addLongRun(y.ports[1], 6);
  std::vector<propose::PlanStep> cannot;
  const auto after = planned(bare(y.e.yard()), &cannot);
  EXPECT_TRUE(cannot.empty()) << base::text(cannot[0].reason);
  EXPECT_TRUE(after->unwired.empty());
  for (const findings::Finding& f : findings::report(*after).findings)
    EXPECT_GT(f.severity, findings::Severity::WontWork) << f.rule << ": " << base::text(f.sentence);
  EXPECT_TRUE(propose::planPortsOf(after).change.empty()) << "planned once, nothing to better";
}

// What a hand has hung already is changed only if the plan says so of it.
TEST(PortsOfYard, SayWhatHangsAlreadyWhereTheyChangeIt) {
  TestYard y;
  y.set<yard::Run>(y.run, [](yard::Run& run) { run.port = {}; });  // pulled, but from no port
  const Id loose = y.addProp("ring", "Second ring", at(4, 3));
  const auto before = assessed(y);
  const propose::YardPlan plan = propose::planPortsOf(before);
  const Yard after = edit::apply(before->yard, plan.change);
  bool said = false;
  for (const propose::PlanStep& step : plan.steps) {
    if (!step.reason.key.starts_with("plan_port")) continue;  // the feeds that the runs then need
    const yard::Run* run = find<yard::Run>(after, step.subject);
    ASSERT_TRUE(run);
    const bool hung = std::any_of(run->items.begin(), run->items.end(),
                                  [&](const yard::RunItem& item) { return item.prop && item.prop != loose; });
    EXPECT_EQ(step.reason.key, hung ? "plan_port_rehung" : "plan_port");
    EXPECT_EQ(base::text(step.reason).find('['), std::string::npos) << base::text(step.reason);
    said = said || hung;
  }
  EXPECT_TRUE(said);
}

// Arches on a port each hold, and a short behind any of them opens its fuse; one run of them all saves two
// leads, and a short at its far end goes on. The saving once was taken without a word.
TEST(PortsOfYard, LeaveWhatHoldsWhereASavingWouldBeGraver) {
  TestYard y;
  y.set<Settings>(settingsId(y.e.yard()), [](Settings& s) { s.brightnessLimit = {450'000}; });
  for (int i = 0; i < 3; ++i)
    y.addRun(y.ports[static_cast<std::size_t>(i) + 1],
             {y.addProp("arch", "Arch " + std::to_string(i + 2), at(2.0 + 1.5 * i, 6.0))});
  const auto before = assessed(y);
  ASSERT_EQ(propose::graveness(*before), (std::array<std::int64_t, 3>{}));
  const propose::YardPlan plan = propose::planPortsOf(before);
  EXPECT_EQ(propose::graveness(*assess::assess(edit::apply(before->yard, plan.change), before)),
            propose::graveness(*before));
  EXPECT_TRUE(plan.steps.empty()) << base::text(plan.steps[0].reason);
  EXPECT_EQ(plan.costAfter, plan.costBefore);
  EXPECT_GT(plan.gap(), 0.1) << "the saving is told all the same";
}

TEST(PortsOfYard, KeepARunThatIsKeptAndSayWhatIsOutOfReach) {
  TestYard y;
  y.e.add(KeepAsIs{y.run, "port"});
  const Id far = y.addProp("ring", "Far ring", at(200, 200));
  const auto before = assessed(y);
  const propose::YardPlan plan = propose::planPortsOf(before);
  const Yard after = edit::apply(before->yard, plan.change);
  EXPECT_TRUE(*find<yard::Run>(after, y.run) == *find<yard::Run>(before->yard, y.run));
  ASSERT_EQ(plan.cannot.size(), 1U);
  EXPECT_EQ(plan.cannot[0].subject, far);
  EXPECT_EQ(plan.cannot[0].reason.key, "plan_cannot_reach");
}

TEST(AddressesOfYard, StayWhenARunIsPutInBetween) {
  TestYard y;
  y.addLongRun(y.ports[2], 3);
  auto now = assessed(y);
  const propose::YardPlan first = propose::planAddressesOf(now);
  const Yard given = edit::apply(now->yard, first.change);
  EXPECT_EQ(first.steps.size(), 2U);
  TestYard more;
  more.e = edit::Editor(given);
  const Id middle = more.addRun(more.ports[1], {more.addProp("arch", "Arch 9", at(3, 4))});
  now = assessed(more);
  const propose::YardPlan second = propose::planAddressesOf(now);
  ASSERT_EQ(second.steps.size(), 1U);
  EXPECT_EQ(second.steps[0].subject, middle);
  const auto after = assess::assess(edit::apply(now->yard, second.change));
  EXPECT_TRUE(after->data.overlaps.empty());
  for (const auto& [id, run] : all<yard::Run>(given))
    EXPECT_EQ(run->startUniverse, find<yard::Run>(after->yard, id)->startUniverse);
}

// Whatever is asked, what is proposed breaks no hard limit; what cannot be met is named.
TEST(Planners, NeverBreakAHardLimitOnRandomYards) {
  // tests/outside/run.sh asks for thousands.
  const char* asked = std::getenv("YARDWRIGHT_RANDOM_YARDS");
  const std::uint32_t yards = asked ? static_cast<std::uint32_t>(std::strtoul(asked, nullptr, 10)) : 150;
  std::uint32_t whole = 0;
  for (std::uint32_t seed = 1; seed <= yards; ++seed) {
    std::mt19937 engine(seed);
    const auto draw = [&](int low, int high) {
      return low + static_cast<int>(engine() % static_cast<std::uint32_t>(high - low + 1));
    };
    TestYard y;
    const char* kinds[] = {"arch", "ring", "star", "small_cone_tree", "snowflake"};
    for (int i = draw(1, 7); i > 0; --i)
      y.addProp(kinds[draw(0, 4)], "Prop " + std::to_string(i), at(draw(-6, 12), draw(2, 14)));
    y.set<Settings>(settingsId(y.e.yard()), [&](Settings& s) {
      s.brightnessLimit = {draw(20, 60) * 10'000};
      s.frameRate = {draw(20, 50) * 1'000};
    });
    y.set<Supply>(y.supply, [&](Supply& s) { s.ratedAmps = {draw(10, 40) * 1'000'000}; });
    std::vector<propose::PlanStep> cannot;
    const auto after = planned(bare(y.e.yard()), &cannot);
    for (const propose::PlanStep& step : cannot)
      EXPECT_EQ(base::text(step.reason).find('['), std::string::npos) << base::text(step.reason);
    if (!cannot.empty()) continue;
    ++whole;
    EXPECT_TRUE(after->unwired.empty()) << seed;
    for (const findings::Finding& f : findings::report(*after).findings)
      for (const char* rule : {"low_volts", "will_not_light", "port_pixels", "port_amps", "section_amps",
                               "fuse_and_wire", "fuse_load", "data_reach", "mixed_volts", "mixed_chips",
                               "positives_joined", "address_overlap", "supply_load"})
        if (f.rule == rule) {
          EXPECT_GT(f.severity, findings::Severity::WontWork) << seed << " " << base::text(f.sentence);
        }
  }
  EXPECT_GT(whole, yards * 2 / 5);
}

std::vector<propose::TradeOffRow> rowsOf(const char* key, const assess::AssessmentPtr& yard,
                                         Id subject = {}) {
  return propose::findTradeOff(key)->rows(yard, subject, std::atomic<bool>{false}, {});
}

void oneIsNowAndAllRise(const std::vector<propose::TradeOffRow>& rows) {
  int now = 0;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    now += rows[i].now ? 1 : 0;
    EXPECT_EQ(base::text(rows[i].choice).find('['), std::string::npos);
    if (i > 0) {
      EXPECT_GT(rows[i].value, rows[i - 1].value);
    }
  }
  EXPECT_EQ(now, 1);
}

std::set<std::string> allParts() {
  std::set<std::string> all;
  for (const propose::PlanPart& part : propose::planParts()) all.insert(part.key);
  return all;
}

/// Bare props and a box, a run too long for one feed, a walk between them and the box.
Yard bareWithALongRun() {
  TestYard y;
  y.addLongRun(y.ports[1], 7);
  y.set<Settings>(settingsId(y.e.yard()), [](Settings& s) { s.brightnessLimit = {450'000}; });
  return bare(y.e.yard());
}

// Any one step may be left out: it is not done, the marks for that do not stay, and what remains holds.
TEST(WholePlan, LeavesOutAnyOneStepAndPlansTheRestRoundIt) {
  const auto before = assess::assess(bareWithALongRun());
  const propose::WholePlan all = propose::planWhole(before, allParts(), false);
  propose::LeftOut steps;
  for (const auto& [part, plan, leftOut] : all.parts)
    for (const propose::PlanStep& step : plan.steps)
      if (step.subject) steps.emplace(part->key, labelOf(all.after->yard, step.subject));
  ASSERT_GE(steps.size(), 4U);
  for (const auto& one : steps) {
    const std::string name = one.first + ":" + one.second;
    const propose::WholePlan some = propose::planWhole(before, allParts(), false, {}, {one});
    EXPECT_TRUE(some.unknown.empty()) << name;
    bool told = false;
    for (const auto& [part, plan, leftOut] : some.parts) {
      if (part->key != one.first) continue;
      for (const auto& [label, step] : leftOut) told = told || label == one.second;
      for (const propose::PlanStep& step : plan.steps)
        if (step.subject) {
          EXPECT_NE(labelOf(some.after->yard, step.subject), one.second) << name;
        }
    }
    EXPECT_TRUE(told) << name;
    EXPECT_TRUE(yard::all<KeepAsIs>(some.after->yard).empty()) << name;
    EXPECT_TRUE(edit::apply(before->yard, some.change) == some.after->yard) << name;
    for (const auto& [id, record] : some.after->yard.records)
      for (const Id named : references(*record))
        EXPECT_TRUE(!named || some.after->yard.records.contains(named)) << name;
    for (const findings::Finding& f : findings::report(*some.after).findings)
      EXPECT_GT(f.severity, findings::Severity::WontWork) << name << ": " << base::text(f.sentence);
  }
}

TEST(WholePlan, SaysWhichStepToLeaveOutIsNotThere) {
  const auto before = assess::assess(bareWithALongRun());
  const propose::LeftOut none{{"ports", "K9-P99"}, {"nothing", "K1-P01"}};
  EXPECT_EQ(propose::planWhole(before, allParts(), false, {}, none).unknown, none);
}

/// A plan that does more does less as well: what asks for less is never dearer.
void costsNeverFall(const std::vector<propose::TradeOffRow>& rows) {
  for (std::size_t i = 1; i < rows.size(); ++i)
    if (rows[i].cannot <= rows[i - 1].cannot && rows[i].grave <= rows[i - 1].grave) {
      EXPECT_GE(rows[i].cost, rows[i - 1].cost - 1e-6) << rows[i].value;
    }
}

TEST(TradeOffs, ABrighterShowTakesMoreAndSaysWhatItCosts) {
  TestYard y;
  const auto yard = planned(bare(y.e.yard()));
  const auto rows = rowsOf("brightness", yard);
  ASSERT_GE(rows.size(), 7u);
  oneIsNowAndAllRise(rows);
  for (std::size_t i = 1; i < rows.size(); ++i) {
    if (rows[i].cannot > 0 || rows[i - 1].cannot > 0) continue;
    EXPECT_GT(rows[i].amps, rows[i - 1].amps) << "every pixel lit draws more when brighter";
    EXPECT_GT(rows[i].lineAmps, rows[i - 1].lineAmps);
  }
  costsNeverFall(rows);
  EXPECT_TRUE(propose::findTradeOff("brightness")->rows(yard, {}, std::atomic<bool>{true}, {}).empty());
}

TEST(TradeOffs, ARowsChangeMakesTheYardItTellsOf) {
  TestYard y;
  const auto yard = planned(bare(y.e.yard()));
  for (const propose::TradeOff& what : propose::tradeOffs())
    for (const propose::TradeOffRow& row : what.rows(yard, {}, std::atomic<bool>{false}, {})) {
      const auto after = assess::assess(edit::apply(yard->yard, row.change));
      double amps = 0.0;
      for (const auto& [id, figure] : after->limit.supplies) amps += figure.amps;
      EXPECT_NEAR(amps, row.amps, 1e-6) << what.key;
      EXPECT_EQ(std::ssize(after->limit.feeds), row.feeds) << what.key;
      EXPECT_EQ(std::ssize(all<Box>(after->yard)), row.boxes) << what.key;
    }
}

TEST(TradeOffs, ARowThatIsStoppedMidwayIsLeftOut) {
  TestYard y;
  const auto yard = assess::assess(bare(y.e.yard()));
  for (const propose::TradeOff& what : propose::tradeOffs()) {
    const auto whole = what.rows(yard, {}, std::atomic<bool>{false}, {});
    std::atomic<bool> stop{false};
    std::size_t begun = 0;
    const auto some = what.rows(yard, {}, stop, [&](std::size_t line, std::size_t all) {
      EXPECT_EQ(line, ++begun);
      EXPECT_LE(line, all);
      stop = begun == 2;
    });
    ASSERT_LE(some.size(), 1u) << what.key;
    // With all rows there, one above may have given it a cheaper plan.
    for (std::size_t i = 0; i < some.size(); ++i) {
      EXPECT_EQ(some[i].value, whole.at(i).value) << what.key;
      EXPECT_GE(some[i].cost, whole.at(i).cost) << what.key;
    }
  }
}

TEST(TradeOffs, EachRateKeepsItsPixelsOnAPortAndNoLowerRateIsDearer) {
  edit::Editor editor(onlyProps(1));
  const Id arch = all<Prop>(editor.yard()).front().first;
  Prop tree = shapes::usualProp("cone_tree");  // 784 pixels: more than one port's at 60 frames a second
  tree.product = find<Prop>(editor.yard(), arch)->product;
  tree.at = base::point(base::Vec2{0.0, 4.0});
  editor.add(tree);
  const auto rows = rowsOf("frames", assess::assess(editor.yard()));
  ASSERT_GE(rows.size(), 6u);
  oneIsNowAndAllRise(rows);
  costsNeverFall(rows);
  for (const propose::TradeOffRow& row : rows) {
    const auto after = assess::assess(edit::apply(editor.yard(), row.change));
    EXPECT_DOUBLE_EQ(static_cast<double>(settings(after->yard).frameRate.count) * 1e-3, row.value);
    EXPECT_TRUE(after->unwired.empty()) << row.value;
    for (const auto& [id, layout] : after->layouts)
      EXPECT_LE(std::ssize(layout->pixels),
                data::mostPixels(*find<Product>(after->yard, tree.product), settings(after->yard).frameRate))
          << row.value;
  }
}

TEST(TradeOffs, AnotherBoxIsPricedWithItsController) {
  TestYard y;
  const auto rows = rowsOf("boxes", planned(bare(y.e.yard())));
  ASSERT_EQ(rows.size(), 3u);
  oneIsNowAndAllRise(rows);
  EXPECT_EQ(rows[1].boxes, rows[0].boxes + 1);
}

TEST(TradeOffs, PixelsOfOtherVoltsGetTheirOwnSupply) {
  edit::Editor editor(onlyProps(0));
  Id twelve;
  for (const auto& [id, product] : all<Product>(editor.yard()))
    if (product->name == "12 V node, resistor type") twelve = id;
  ASSERT_TRUE(twelve);
  for (int i = 0; i < 3; ++i) {
    Prop prop = shapes::usualProp("arch");
    prop.name = "Arch " + std::to_string(i);
    prop.product = twelve;
    prop.at = base::point(base::Vec2{3.0 * i, 0.0});
    editor.add(prop);
  }
  Outlet outlet;
  outlet.circuit = edit::usualCircuit(editor);
  outlet.at = base::point(base::Vec2{0.0, 5.0});
  editor.add(outlet);
  const auto rows = rowsOf("volts", assess::assess(editor.yard()));
  ASSERT_GE(rows.size(), 2u);
  oneIsNowAndAllRise(rows);
  const auto& five = rows.front();
  EXPECT_DOUBLE_EQ(five.value, 5.0);
  EXPECT_EQ(five.cannot, 0);
  EXPECT_GE(five.supplies, 1);
  const Yard after = edit::apply(editor.yard(), five.change);
  for (const auto& [id, prop] : all<Prop>(after))
    EXPECT_EQ(find<Product>(after, prop->product)->voltage, Voltage{5'000'000});
}

}  // namespace
}  // namespace yw::testyard
