#include "core/circuit/protection.h"

#include <gtest/gtest.h>

#include <limits>

#include "core/catalog/conductors.h"
#include "tests/core/circuit/power_yard.h"

namespace yw::circuit::test {
namespace {

constexpr double kUsable = 0.75;

std::vector<CarryLimit> only(double amps) { return {{amps, "wire", "table"}}; }

Wire ofGauge(std::int64_t gauge) {
  Wire w;
  w.name = std::to_string(gauge) + " AWG";
  w.gauge = gauge;
  return w;
}

// A run of 4.2 A by the fuse makers' 75 % rule wants 5.6 A, so 7.5 A; 18 AWG may carry 6 A (NEC Table 402.5),
// 16 AWG 8 A.
TEST(FuseChoice, MeetsTheWireAsTheWorkedCaseSays) {
  const auto on18 = chooseFuse(4.2, 4.2, kUsable, limitsOf(ofGauge(18), CodeEdition::Nec2023));
  EXPECT_EQ(on18.fuse.count, 7'500'000);
  EXPECT_FALSE(on18.fits);
  EXPECT_EQ(on18.limit.amps, 6.0);
  EXPECT_EQ(on18.largest.count, 5'000'000);
  EXPECT_EQ(on18.limit.source, "NEC 2023 Table 402.5 (fixture wire, 18 AWG)");
  const auto on16 = chooseFuse(4.2, 4.2, kUsable, limitsOf(ofGauge(16), CodeEdition::Nec2023));
  EXPECT_TRUE(on16.fits);
  EXPECT_EQ(on16.fuse.count, 7'500'000);
}

// 150 pixels at 38 mA: 1.92 A at a 30 % limit takes a 3 A fuse, 5.70 A uncapped opens it; 7.5 A is not
// allowed on 18 AWG (NEC 240.4(D): 7 A).
TEST(FuseChoice, TellsOfFullWhite) {
  const auto choice = chooseFuse(1.92, 5.70, kUsable, limitsOf(ofGauge(18), CodeEdition::Nec2017));
  EXPECT_EQ(choice.fuse.count, 3'000'000);
  EXPECT_TRUE(choice.fits);
  EXPECT_TRUE(choice.opensAtFullWhite);
  EXPECT_FALSE(chooseFuse(5.70, 5.70, kUsable, only(7.0)).fits);
}

// NEC 240.4(D): whatever is printed on the wire, 18 AWG takes a 7 A device at most.
TEST(FuseChoice, HoldsTheCeilingOfSmallConductors) {
  Wire w = ofGauge(18);
  w.limit = {16'000'000};
  EXPECT_EQ(lowest(limitsOf(w, CodeEdition::Nec2023)).amps, 7.0);
  EXPECT_EQ(lowest(limitsOf(w, CodeEdition::Nec2023)).source, "NEC 2023 240.4(D)");
  w.contactLimit = {5'000'000};
  EXPECT_EQ(lowest(limitsOf(w, CodeEdition::Nec2023)).amps, 5.0);
}

TEST(FuseChoice, IsNeverSmallerForMoreLoadNorAboveTheLimitWhenItFits) {
  for (const double limit : {0.0, 2.5, 3.0, 6.0, 8.0, 15.0, 40.0}) {
    base::Current before{0};
    for (double load = 0.0; load <= 30.0; load += 0.05) {
      const FuseChoice choice = chooseFuse(load, 2.0 * load, kUsable, only(limit));
      ASSERT_GT(choice.fuse.count, 0) << load;
      EXPECT_GE(choice.fuse, before) << load;
      EXPECT_GE(base::amps(choice.fuse).si * kUsable + 1e-6, load);
      if (choice.fits && limit > 0.0) {
        EXPECT_LE(base::amps(choice.fuse).si, limit);
      }
      before = choice.fuse;
    }
  }
}

TEST(FuseChoice, RefusesWhatNoFuseCarries) {
  for (const double load :
       {30.1, 1e9, std::numeric_limits<double>::infinity(), std::numeric_limits<double>::quiet_NaN()}) {
    const FuseChoice choice = chooseFuse(load, load, kUsable, only(20.0));
    EXPECT_EQ(choice.fuse.count, 0) << load;
    EXPECT_FALSE(choice.fits);
  }
  EXPECT_EQ(chooseFuse(1.0, 1.0, 0.0, only(20.0)).fuse.count, 0) << "no usable part at all";
}

Settings plain() {
  Settings s;
  s.strandingFactor = {1'000'000};
  return s;
}

// One-way length for 0.6 V at 12 V, load lumped at the end, solid copper at 20 °C (L = V / 2 r I with the
// printed ASTM B258 resistances): 5 A: 18 AWG 9.4 ft, 16 AWG 14.9 ft, 14 AWG 23.8 ft; 7 A: 12 AWG 27.0 ft.
TEST(WireChoice, AgreesWithThePublishedLengths) {
  const auto chosen = [](double amps, double feet) {
    return chooseWire(amps, {0}, feet * kFoot, 0.6, plain()).gauge.value_or(0);
  };
  EXPECT_EQ(chosen(5.0, 9.35), 18);
  EXPECT_EQ(chosen(5.0, 9.45), 16);
  EXPECT_EQ(chosen(5.0, 14.9), 16);
  EXPECT_EQ(chosen(5.0, 15.0), 14);
  EXPECT_EQ(chosen(5.0, 23.7), 14);
  EXPECT_EQ(chosen(7.0, 26.9), 12);
  EXPECT_EQ(chosen(7.0, 27.1), 10);
  EXPECT_EQ(chosen(10.0, 31.0), 0) << "10 AWG reaches 30.0 ft";
}

TEST(WireChoice, CarriesTheFuse) {
  const WireChoice choice = chooseWire(4.2, {7'500'000}, 0.1, 0.6, plain());
  EXPECT_EQ(choice.gauge.value_or(0), 16);
  EXPECT_FALSE(choice.setByDrop);
  EXPECT_TRUE(chooseWire(4.2, {7'500'000}, 20.0, 0.6, plain()).setByDrop);
  EXPECT_FALSE(chooseWire(4.2, {40'000'000}, 0.1, 0.6, plain()).gauge.has_value());
}

TEST(WireChoice, IsNeverThinnerForLongerWaysOrMoreLoad) {
  int before = 40;
  for (double metres = 0.0; metres < 60.0; metres += 0.25) {
    const int gauge = chooseWire(3.0, {4'000'000}, metres, 0.6, plain()).gauge.value_or(0);
    EXPECT_LE(gauge, before);
    before = gauge;
  }
  EXPECT_EQ(before, 0);
}

// 93 pixels of 40 mA on a port, 18 AWG lead.
TEST(Protection, ReadsLoadLimitsAndWayOfAPort) {
  PowerYard y;
  const Id prop = y.addProp(60);
  const Id run = y.addRun(y.port, {PowerYard::stretch(prop)});
  y.lead(run, y.awg18, 10 * kFoot);
  y.routes.cables[{routes::CableRole::Lead, run, 0}].from = {TerminalKind::Port, y.port, 0};
  const auto layout = layouts(y.yard, y.shapes, y.routes);
  const auto limit = y.power(Condition::BrightnessLimit), full = y.power();
  const auto p = protectionOf(y.yard, y.routes, layout, limit, full, y.port);
  ASSERT_TRUE(p.has_value());
  EXPECT_NEAR(p->load, limit.portAmps.at(y.port), 1e-12);
  EXPECT_NEAR(p->length, 10 * kFoot, 1e-9);
  EXPECT_EQ(p->wire, y.awg18);
  EXPECT_EQ(p->choice.fuse, catalog::smallestFuse({p->load}, kUsable));
  EXPECT_EQ(p->choice.limit.amps, 4.0) << "its string of 20 AWG";
  const std::string said = base::text(usualText(*p));
  EXPECT_EQ(said.find('['), std::string::npos) << said;
  EXPECT_NE(said.find("AWG"), std::string::npos) << said;
  EXPECT_FALSE(
      protectionOf(y.yard, y.routes, layout, limit, full, y.addPort(y.controller, 2, 1)).has_value());
}

TEST(Protection, SaysEveryCaseInWords) {
  for (const double load : {0.5, 4.2, 12.0, 100.0})
    for (const double limit : {0.0, 3.0, 50.0})
      for (const double length : {1.0, 500.0}) {
        Protection p;
        p.load = load;
        p.fullWhite = load * 3;
        p.choice = chooseFuse(load, load * 3, kUsable, only(limit));
        p.wireChoice = chooseWire(load, p.choice.fuse, length, 0.6, plain());
        const std::string said = base::text(usualText(p));
        EXPECT_EQ(said.find('['), std::string::npos) << said;
      }
}

}  // namespace
}  // namespace yw::circuit::test
