// Yards that nobody means to make: each ends in figures that can be, and in a finding or an error that says
// what is odd.
#include <gtest/gtest.h>

#include <cmath>
#include <functional>

#include "core/base/message.h"
#include "core/yard/field_value.h"
#include "tests/core/findings/test_yard.h"

namespace yw::testyard {
namespace {

struct OddYard {
  std::string name;
  std::function<void(TestYard&)> make;
  std::string rule;  ///< that must speak up; empty: the yard is odd but sound
};

Id hugePanel(TestYard& y) {
  const Id panel = y.addProp("mesh_panel", "Wall of light", at(20, 20));
  y.set<Prop>(panel, [](Prop& p) {
    p.sizes["pitch"] = base::millimetres(50).count;
    p.sizes["width"] = base::millimetres(50 * 400).count;
    p.sizes["height"] = base::millimetres(50 * 250).count;
    p.choices["backing"] = "sheet";
  });
  return panel;
}

std::vector<OddYard> oddYards() {
  return {
      {"no resistance anywhere",
       [](TestYard& y) {
         y.set<Settings>(settingsId(y.e.yard()), [](Settings& s) {
           s.jointResistance = {0};
           s.tail = s.dripLoop = {0};
           s.slack = {0};
         });
         y.set<Supply>(y.supply, [](Supply& s) { s.internalResistance = {0}; });
       },
       ""},
      {"a lead of no length",
       [](TestYard& y) {
         y.set<Settings>(settingsId(y.e.yard()), [](Settings& s) {
           s.tail = s.dripLoop = {0};
           s.roundUpTo = {1};
         });
         y.set<Prop>(y.ring, [](Prop& p) { p.at = at(1, 0); });
       },
       ""},
      {"a feed at a pixel that is not there", [](TestYard& y) { y.addFeed(y.fuses[0], y.ring, 9'999); },
       "past_the_end"},
      {"a supply of next to no rating",
       [](TestYard& y) { y.set<Supply>(y.supply, [](Supply& s) { s.ratedAmps = {1'000}; }); }, "supply_load"},
      {"a run fed by nothing",
       [](TestYard& y) { y.set<Controller>(y.controller, [](Controller& c) { c.sections[0].supply = {}; }); },
       "will_not_light"},
      {"100,000 pixels in one run", [](TestYard& y) { y.addRun(y.ports[1], {hugePanel(y)}); }, "port_pixels"},
  };
}

TEST(OddYards, EndInFiguresThatCanBeAndSayWhatIsOdd) {
  for (const OddYard& odd : oddYards()) {
    TestYard y;
    odd.make(y);
    const auto a = assess::assess(y.e.yard());
    const findings::Report report = findings::report(*a);
    for (const auto* condition : {&a->limit, &a->fullWhite})
      for (const auto& [id, run] : condition->runs)
        for (const double volts : run.volts) ASSERT_TRUE(std::isfinite(volts) && volts >= 0) << odd.name;
    bool said = odd.rule.empty();
    for (const findings::Finding& f : report.findings) {
      const std::string text = base::text(f.sentence) + base::text(f.advice);
      for (const char* bad : {"[", "nan", "inf ", "-0"}) EXPECT_EQ(text.find(bad), std::string::npos) << text;
      said = said || f.rule == odd.rule;
    }
    EXPECT_TRUE(said) << odd.name << ": nothing says " << odd.rule;
  }
}

// No rating at all is refused where it is typed, and in a file.
TEST(OddYards, ASupplyMustHaveARating) {
  TestYard y;
  const Record& supply = *y.e.yard().records.at(y.supply);
  const auto changed = yard::withValue(supply, "rated_amps", std::int64_t{0});
  ASSERT_FALSE(changed);
  EXPECT_EQ(base::text(changed.error()).find('['), std::string::npos) << base::text(changed.error());
}

}  // namespace
}  // namespace yw::testyard
