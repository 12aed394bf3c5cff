#include "core/circuit/mains.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/catalog/conductors.h"
#include "core/circuit/code.h"
#include "tests/core/circuit/power_yard.h"

namespace yw::circuit::test {
namespace {

base::Length in(std::int64_t n) { return base::inches(n); }

Box closedBox() {
  Box b;
  b.insideWidth = in(16);
  b.insideHeight = in(12);
  b.insideDepth = in(6);
  return b;
}

// 46 W in a 16 × 12 × 6 in closed plastic box rises about 18 K: a published rule for such boxes, 5.5 W/(m²
// K).
TEST(BoxHeat, ClosedBoxRisesAsTheWorkedExampleSays) {
  const BoxFigure f = boxHeat(closedBox(), 46.0, 1, 20.0);
  EXPECT_NEAR(f.rise, 18.0, 0.05);
  EXPECT_NEAR(f.inside, 38.0, 0.05);
  EXPECT_FALSE(f.assumedSize);
}

TEST(BoxHeat, VentsOpenAirAndAWallChangeTheRise) {
  Box b = closedBox();
  const double closed = boxHeat(b, 60.0, 1, 20.0).rise;
  b.cooling = BoxCooling::Vented;
  EXPECT_LT(boxHeat(b, 60.0, 1, 20.0).rise, closed);
  b.cooling = BoxCooling::OpenAir;
  EXPECT_EQ(boxHeat(b, 60.0, 1, 20.0).rise, 0.0);
  b.cooling = BoxCooling::Closed;
  b.wall = Id{7};
  EXPECT_GT(boxHeat(b, 60.0, 1, 20.0).rise, closed) << "the back no longer counts";
}

TEST(BoxHeat, UnmeasuredBoxIsTakenAsUsualAndSaysSo) {
  const BoxFigure one = boxHeat(Box{}, 46.0, 1, 20.0);
  EXPECT_TRUE(one.assumedSize);
  EXPECT_NEAR(one.rise, 18.0, 0.05);
  EXPECT_NEAR(boxHeat(Box{}, 92.0, 2, 20.0).rise, one.rise, 1e-9);
}

// A switching-supply technical manual: 100 % to 50 °C, 60 % at 60 °C.
TEST(Derating, FollowsThePublishedCurve) {
  const Supply s;
  EXPECT_DOUBLE_EQ(deratingAt(s, 50.0), 1.0);
  EXPECT_DOUBLE_EQ(deratingAt(s, 55.0), 0.8);
  EXPECT_NEAR(deratingAt(s, 60.0), 0.6, 1e-12);
  EXPECT_EQ(deratingAt(s, 60.1), 0.0);
}

// A supply-derating guideline: 2.5 % per °C from 50 to 70 °C.
TEST(Derating, TakesAnotherCurve) {
  Supply s;
  s.derateTo = {70'000};
  s.derateShare = {500'000};
  EXPECT_NEAR(deratingAt(s, 51.0), 0.975, 1e-12);
  EXPECT_NEAR(deratingAt(s, 70.0), 0.5, 1e-12);
}

TEST(Derating, WarmerAirNeverRaisesARating) {
  for (const std::int64_t share : {0, 300'000, 600'000, 1'000'000})
    for (const std::int64_t to : {40'000, 50'000, 60'000, 85'000}) {
      Supply s;
      s.derateTo = {to};
      s.derateShare = {share};
      double before = 1.0;
      for (double celsius = -40.0; celsius <= 120.0; celsius += 0.5) {
        const double now = deratingAt(s, celsius);
        EXPECT_LE(now, before) << celsius;
        EXPECT_GE(now, 0.0);
        before = now;
      }
    }
}

// The same manual: 100 % above 110 V, 80 % at 90 V.
TEST(LowLine, LessLineNeverRaisesARating) {
  EXPECT_DOUBLE_EQ(lowLineShare(120.0), 1.0);
  EXPECT_DOUBLE_EQ(lowLineShare(230.0), 1.0);
  EXPECT_DOUBLE_EQ(lowLineShare(90.0), 0.8);
  EXPECT_DOUBLE_EQ(lowLineShare(100.0), 0.9);
  double before = 0.0;
  for (double volts = 0.0; volts < 250.0; volts += 0.5) {
    EXPECT_GE(lowLineShare(volts), before);
    before = lowLineShare(volts);
  }
}

// A supply maker's answer: 73 % by the air and 90 % by the line leave 65.7 %.
TEST(LowLine, FactorsMultiply) {
  Supply s;
  s.derateFrom = {50'000};
  s.derateTo = {60'000};
  s.derateShare = {460'000};
  EXPECT_NEAR(deratingAt(s, 55.0) * lowLineShare(100.0), 0.657, 1e-9);
}

// 280 W at 86 %: 46 W of heat (published rule: loss = P (1/η - 1)).
TEST(Heat, IsWhatTheSupplyLoses) {
  Supply s;
  s.efficiency = {860'000};
  EXPECT_NEAR(heatOf(s, 280.0), 45.58, 0.01);
  s.efficiency = {0};
  EXPECT_EQ(heatOf(s, 280.0), 0.0);
  EXPECT_EQ(heatOf(Supply{}, -5.0), 0.0);
}

struct Corded : PowerYard {
  Id cordWire;
  Corded() {
    Wire w;
    w.name = "16/3 cord";
    w.gauge = 16;
    w.conductors = ConductorSet::Mains;
    cordWire = add(w);
  }
  /// Figures of the house where that supply gives `watts` and the others what `power` says already.
  Power house(Id of, double watts, Power power = {}) const {
    power.supplies[of].watts = watts;
    power.supplies[of].amps = watts / 12.0;
    takeFromHouse(yard, routes, power);
    return power;
  }
  CableKey cordTo(Id id, double feet, Id record = {}) {
    const CableKey key{routes::CableRole::MainsCord, id, 0};
    cable(key.role, id, 0, cordWire, feet * kFoot, ConductorSet::Mains);
    routes.cables[key].record = record;
    return key;
  }
};

// 350 W out at 120 V and 85 %: 6.239 A at a power factor of 0.55, 3.501 A at 0.98. I = P / (V η PF), a
// switching-supply technical manual.
TEST(LineAmps, FollowEfficiencyAndPowerFactor) {
  Corded y;
  EXPECT_NEAR(y.house(y.supply, 350.0).supplies.at(y.supply).lineAmps, 6.239, 1e-3);
  y.change<Supply>(y.supply, [](Supply& s) { s.powerFactor = {980'000}; });
  EXPECT_NEAR(y.house(y.supply, 350.0).supplies.at(y.supply).lineAmps, 3.501, 1e-3);
}

TEST(LineAmps, StayFiniteOnBadNameplates) {
  Corded y;
  for (const auto& [efficiency, factor] : {std::pair{0, 550'000}, {850'000, 0}, {0, 0}}) {
    y.change<Supply>(y.supply, [&, e = efficiency, f = factor](Supply& s) {
      s.efficiency = {e};
      s.powerFactor = {f};
      s.ratedAmps = {0};
    });
    const Power p = y.house(y.supply, 350.0);
    EXPECT_EQ(p.supplies.at(y.supply).lineAmps, 0.0);
    EXPECT_EQ(p.mains.supplies.at(y.supply).ratedNow, 0.0);
    EXPECT_TRUE(std::isfinite(p.mains.energy.watts));
  }
}

// NEC Chapter 9 Table 8, stranded copper at 75 °C: 10 A over 50 ft loses 4.99, 3.14, 1.98 V on 16, 14, 12
// AWG.
TEST(Cord, LosesWhatTheTableSays) {
  for (const auto& [gauge, volts] : {std::pair{16, 4.99}, {14, 3.14}, {12, 1.98}}) {
    Corded y;
    y.change<Settings>(y.settings, [](Settings& s) {
      s.wireTemperature = {75'000};
      s.strandingFactor = {1'025'000};
    });
    y.change<Wire>(y.cordWire, [g = gauge](Wire& w) { w.gauge = g; });
    const CableKey key = y.cordTo(y.supply, 50);
    // The watts that take just 10 A at the volts that are left.
    const Supply& s = *find<Supply>(y.yard, y.supply);
    const double watts =
        10.0 * (120.0 - volts) * base::fraction(s.efficiency) * base::fraction(s.powerFactor);
    const Power p = y.house(y.supply, watts);
    EXPECT_NEAR(p.mains.cords.at(key).amps, 10.0, 0.01);
    EXPECT_NEAR(p.mains.cords.at(key).lost, volts, volts * 0.005);
    EXPECT_NEAR(p.mains.cords.at(key).lostShare, volts / 120.0, 1e-3);
    EXPECT_NEAR(p.mains.supplies.at(y.supply).inputVolts, 120.0 - volts, 0.03);
  }
}

// A load of constant power P behind R: V = (Vs + √(Vs² - 4 R P)) / 2, maximum power transfer.
TEST(Cord, FewerVoltsTakeMoreAmps) {
  Corded y;
  const CableKey key = y.cordTo(y.supply, 300);
  const double r = 2.0 * catalog::copperResistance(16).si * 300 * kFoot, va = 350.0 / 0.85 / 0.55;
  const double volts = (120.0 + std::sqrt(120.0 * 120.0 - 4.0 * r * va)) / 2.0;
  const Power p = y.house(y.supply, 350.0);
  EXPECT_NEAR(p.mains.supplies.at(y.supply).inputVolts, volts, 1e-6);
  EXPECT_NEAR(p.supplies.at(y.supply).lineAmps, va / volts, 1e-6);
  EXPECT_NEAR(p.mains.cords.at(key).farVolts, volts, 1e-6);
}

TEST(Cord, HoldsStillWhereNoOperatingPointIs) {
  Corded y;
  y.cordTo(y.supply, 20'000);
  const Power p = y.house(y.supply, 350.0);
  EXPECT_TRUE(std::isfinite(p.supplies.at(y.supply).lineAmps));
  EXPECT_DOUBLE_EQ(p.mains.supplies.at(y.supply).inputVolts, 60.0);
  EXPECT_EQ(p.mains.supplies.at(y.supply).ratedNow, 0.0);
}

struct Shared : Corded {
  Id second, boxCord;
  CableKey key;
  Shared() {
    second = addSupply(box);
    Cable c;
    c.from = {TerminalKind::Outlet, outlet, 0};
    c.to = {TerminalKind::Box, box, 0};
    c.conductors = ConductorSet::Mains;
    boxCord = add(c);
    key = cordTo(boxCord, 50, boxCord);
  }
};

TEST(Cord, OfABoxCarriesAllItsSupplies) {
  Shared y;
  Power before;
  before.supplies[y.second].watts = 100.0;
  const Power p = y.house(y.supply, 200.0, before);
  const double sum = p.supplies.at(y.supply).lineAmps + p.supplies.at(y.second).lineAmps;
  EXPECT_NEAR(p.mains.cords.at(y.key).amps, sum, 1e-9);
  EXPECT_EQ(p.mains.cords.size(), 1U);
  EXPECT_EQ(p.mains.outlets.at(y.outlet).plugs, 1);
  EXPECT_NEAR(p.mains.outlets.at(y.outlet).amps, sum, 1e-9);
  EXPECT_NEAR(p.cables.at(y.key).positiveAmps, sum, 1e-9);
}

TEST(Cord, FromBoxToBoxAddsUpLengthLossAndJoints) {
  Shared y;
  const Id far = y.add(Box{});
  const Id third = y.addSupply(far);
  Cable c;
  c.from = {TerminalKind::Box, y.box, 0};
  c.to = {TerminalKind::Box, far, 0};
  c.conductors = ConductorSet::Mains;
  c.pieces = 2;
  const Id on = y.add(c);
  const CableKey key = y.cordTo(on, 50, on);
  y.routes.cables[key].from = c.from;
  Power before;
  before.supplies[third].watts = 100.0;
  const Power p = y.house(y.supply, 200.0, before);
  const CordFigure &first = p.mains.cords.at(y.key), &next = p.mains.cords.at(key);
  EXPECT_NEAR(first.amps, p.supplies.at(y.supply).lineAmps + p.supplies.at(third).lineAmps, 1e-9);
  EXPECT_NEAR(next.amps, p.supplies.at(third).lineAmps, 1e-9);
  EXPECT_NEAR(next.wholeLength, 100 * kFoot, 1e-9);
  EXPECT_NEAR(next.farVolts, 120.0 - first.lost - next.lost, 1e-9);
  EXPECT_EQ(first.joints, 0);
  EXPECT_EQ(next.joints, 2) << "its plug in the first box's strip, and its own joint";
  EXPECT_EQ(next.strips, 1);
  EXPECT_EQ(next.before, y.box);
}

TEST(Cord, RingOfBoxesFeedsNothing) {
  Corded y;
  const Id other = y.add(Box{});
  for (const auto& [from, to] : {std::pair{y.box, other}, {other, y.box}}) {
    Cable c;
    c.from = {TerminalKind::Box, from, 0};
    c.to = {TerminalKind::Box, to, 0};
    c.conductors = ConductorSet::Mains;
    y.add(c);
  }
  EXPECT_TRUE(routes::boxCords(y.yard).cords.empty());
  EXPECT_EQ(routes::cordsTo(y.yard, routes::boxCords(y.yard), y.supply).size(), 1U);
}

// UL 817 as quoted in public: 16 AWG 13 A to 50 ft, 10 A beyond. NEC Table 400.5(A)(1) column B: 18 AWG 10 A.
TEST(CordLimit, FallsWithLength) {
  Wire w;
  w.gauge = 16;
  EXPECT_EQ(cordLimitOf(w, 50 * kFoot).amps, 13.0);
  EXPECT_EQ(cordLimitOf(w, 51 * kFoot).amps, 10.0);
  w.limit = {7'000'000};
  EXPECT_EQ(cordLimitOf(w, 51 * kFoot).amps, 7.0);
  w = {};
  w.gauge = 18;
  EXPECT_EQ(cordLimitOf(w, 10.0).amps, 10.0);
  w.gauge = 40;
  EXPECT_EQ(cordLimitOf(w, 10.0).amps, 0.0);
}

// How many 350 W supplies a continuous circuit takes: power factor 0.55: 1 on 15 A, 2 on 20 A; 0.98: 3 and 4.
// NEC 210.20(A): 80 % of the breaker.
TEST(Circuit, TakesAsManySuppliesAsTheArithmeticSays) {
  for (const auto& [factor, breaker, most] :
       {std::tuple{550'000, 15, 1}, {550'000, 20, 2}, {980'000, 15, 3}, {980'000, 20, 4}}) {
    Corded y;
    y.change<Supply>(y.supply, [f = factor](Supply& s) { s.powerFactor = {f}; });
    const double amps = y.house(y.supply, 350.0).supplies.at(y.supply).lineAmps;
    EXPECT_EQ(static_cast<int>(breaker * 0.8 / amps), most);
  }
}

TEST(Circuit, IsTheSumOfItsLinesAndOtherLoads) {
  Corded y;
  Power power;
  std::vector<Id> all{y.supply};
  for (int i = 0; i < 5; ++i) all.push_back(y.addSupply(y.box));
  OtherLoad load;
  load.circuit = y.circuit;
  load.amps = {1'500'000};
  y.add(load);
  double watts = 40.0;
  for (const Id id : all) {
    y.cordTo(id, watts);
    power.supplies[id].watts = watts += 17.0;
  }
  takeFromHouse(y.yard, y.routes, power);
  double sum = 1.5, real = 0.0;
  for (const Id id : all) {
    sum += power.supplies.at(id).lineAmps;
    real += power.supplies.at(id).watts / 0.85;
  }
  const CircuitFigure& c = power.circuits.at(y.circuit);
  EXPECT_NEAR(c.amps, sum, 1e-9);
  EXPECT_EQ(c.supplies, 6);
  EXPECT_NEAR(c.leakage, 6 * 0.0005, 1e-12);
  EXPECT_NEAR(c.inrush, 6 * 30.0, 1e-9);
  EXPECT_NEAR(power.mains.energy.watts, c.watts, 1e-9);
  EXPECT_GT(c.watts, real) << "the cords' loss is paid for too";
  const OutletFigure& o = power.mains.outlets.at(y.outlet);
  EXPECT_EQ(o.plugs, 6);
  EXPECT_NEAR(o.worst, sum - 1.5, 1e-9) << "more plugs than places: a strip, all through one receptacle";
}

// NEC Table 210.21(B)(2): 15 A receptacle 12 A, 20 A receptacle 16 A.
TEST(Receptacle, TakesFourFifthsOfItsRating) {
  Corded y;
  EXPECT_DOUBLE_EQ(y.house(y.supply, 100.0).mains.outlets.at(y.outlet).limit, 12.0);
  y.change<Outlet>(y.outlet, [](Outlet& o) { o.receptacle = {20'000'000}; });
  EXPECT_DOUBLE_EQ(y.house(y.supply, 100.0).mains.outlets.at(y.outlet).limit, 16.0);
}

TEST(Energy, IsPowerTimesHoursTimesNights) {
  Corded y;
  Site site;
  site.showFrom = "2026-11-27";
  site.showTo = "2027-01-01";
  site.hoursANight = {static_cast<std::int64_t>(5 * 3600) * 1'000'000'000};
  y.add(site);
  y.change<Settings>(y.settings, [](Settings& s) {
    s.averageShare = {400'000};
    s.energyPrice = {1'800};
  });
  const EnergyFigure e = y.house(y.supply, 340.0).mains.energy;
  EXPECT_NEAR(e.watts, 400.0, 1e-9);
  EXPECT_EQ(e.nights, 36);
  EXPECT_NEAR(e.kwhANight, 0.8, 1e-9);
  EXPECT_NEAR(e.kwh, 28.8, 1e-9);
  EXPECT_EQ(e.cost.count, 51'840);
  EXPECT_TRUE(e.priced);
}

TEST(Season, CountsNightsOnlyOfWholeDatesInOrder) {
  const auto nights = [](const char* from, const char* to) {
    Site s;
    s.showFrom = from;
    s.showTo = to;
    return nightsOf(s);
  };
  EXPECT_EQ(nights("2026-12-01", "2026-12-01"), 1);
  EXPECT_EQ(nights("2028-02-28", "2028-03-01"), 3) << "2028 is a leap year";
  EXPECT_EQ(nights("2026-12-31", "2026-12-01"), 0);
  for (const char* bad :
       {"", "2026-12", "2026-02-30", "12/01/2026", "2026-1-001", "2026-12-0x", "+026-12-01"})
    EXPECT_EQ(nights(bad, "2027-01-01"), 0) << bad;
}

TEST(Code, EditionsSelectSectionsAndFigures) {
  EXPECT_NE(inCode(CodeEdition::Nec2023, CodeRule::PlugInLoad).find("NEC 2023 210.23(B)(1)"),
            std::string::npos);
  EXPECT_NE(inCode(CodeEdition::Nec2017, CodeRule::PlugInLoad).find("NEC 2017 210.23(A)(1)"),
            std::string::npos);
  EXPECT_NE(
      inCode(CodeEdition::Nec2017, CodeRule::ReceptacleLoad).find("same figure in NEC 2020 and NEC 2023"),
      std::string::npos);
  EXPECT_EQ(groundFaultScope(CodeEdition::Nec2017).volts, 125.0);
  EXPECT_EQ(groundFaultScope(CodeEdition::Nec2020).volts, 250.0);
  EXPECT_EQ(inEdition(CodeEdition::Nec2020, "NEC 240.4(D)"), "NEC 2020 240.4(D)");
  EXPECT_EQ(inEdition(CodeEdition::Nec2020, "UL 943"), "UL 943");
}

}  // namespace
}  // namespace yw::circuit::test
