// Plugs that meet and do not mate, and the adapters for them.
#include "core/routes/plugs.h"

#include <gtest/gtest.h>

#include "core/takeoff/takeoff.h"
#include "tests/core/findings/test_yard.h"

namespace yw::testyard {
namespace {

using routes::Adapter;

std::vector<Adapter> adapters(const TestYard& y) {
  const auto a = assess::assess(y.e.yard());
  return routes::adaptersOf(a->yard, a->routes);
}

/// The usual lead is ready-made, with plugs of that family.
void readyMade(TestYard& y, const std::string& family) {
  y.set<Wire>(settings(y.e.yard()).usualLead, [&](Wire& w) { w.plug = family; });
}
void pixels(TestYard& y, const std::string& family, PlugEnd in = PlugEnd::Male) {
  for (const auto& [id, product] : all<Product>(y.e.yard()))
    y.set<Product>(id, [&](Product& p) {
      p.plug = family;
      p.inEnd = in;
    });
}

TEST(Plugs, OfOneFamilyNeedNothing) {
  TestYard y;
  readyMade(y, "Tall collar");
  pixels(y, " tall COLLAR ");
  y.set<Controller>(y.controller, [](Controller& c) { c.plug = "tall collar"; });
  EXPECT_TRUE(adapters(y).empty());
}

TEST(Plugs, ThatAreFittedToWhatTheyJoinNeedNothing) {
  TestYard y;
  pixels(y, "Tall collar", PlugEnd::Female);
  y.set<Controller>(y.controller, [](Controller& c) { c.plug = "Short collar"; });
  EXPECT_TRUE(adapters(y).empty()) << "leads are cut, so each end gets its plug";
}

// Two unlike joints on the lead (port and ring), two on the jumper (ring and arch).
TEST(Plugs, OfUnlikeFamiliesNeedAnAdapterAtEachJoint) {
  TestYard y;
  readyMade(y, "Tall collar");
  pixels(y, "Short collar");
  y.set<Controller>(y.controller, [](Controller& c) { c.plug = "Short collar"; });
  const std::vector<Adapter> found = adapters(y);
  ASSERT_EQ(found.size(), 4U);
  EXPECT_FALSE(found[0].atFarEnd);
  EXPECT_EQ(found[0].nearPlug, "Short collar");
  EXPECT_EQ(found[0].farPlug, "Tall collar");
  // It goes into the port's female end with its male one, and takes the lead's male end in its female one.
  EXPECT_EQ(found[0].nearEnd, PlugEnd::Male);
  EXPECT_EQ(found[0].farEnd, PlugEnd::Female);
  EXPECT_TRUE(found[1].atFarEnd);
  EXPECT_EQ(found[1].farPlug, "Short collar");
  EXPECT_EQ(found[1].farEnd, PlugEnd::Female) << "for the male IN of the ring";
}

TEST(Plugs, OfAPortThatIsScrewedNeedNone) {
  TestYard y;
  readyMade(y, "Tall collar");
  EXPECT_TRUE(adapters(y).empty());
}

TEST(Plugs, WithTheirEndsTheOtherWayRoundNeedAnAdapterThatTurnsThem) {
  TestYard y;
  readyMade(y, "Tall collar");
  pixels(y, "Tall collar", PlugEnd::Female);
  const std::vector<Adapter> found = adapters(y);
  ASSERT_EQ(found.size(), 3U) << "lead into ring, ring into jumper, jumper into arch";
  EXPECT_EQ(found[0].nearEnd, PlugEnd::Male);
  EXPECT_EQ(found[0].farEnd, PlugEnd::Male);
}

TEST(Plugs, AreCountedAmongThePartsAndTold) {
  TestYard y;
  readyMade(y, "Tall collar");
  pixels(y, "Short collar");
  y.set<Controller>(y.controller, [](Controller& c) { c.plug = "Tall collar"; });
  Price price;
  price.what = "adapter, Tall collar male to Short collar female";
  price.price = {40'000};
  y.e.add(price);
  const auto a = assess::assess(y.e.yard());
  std::int64_t counted = 0;
  for (const takeoff::PartLine& line : a->totals.parts)
    if (line.what.starts_with("adapter")) {
      counted += line.count;
      if (line.what == price.what) {
        EXPECT_EQ(line.cost.count, line.count * 40'000);
      }
    }
  EXPECT_EQ(counted, 3);
  std::int64_t told = 0;
  for (const findings::Finding& f : findings::report(*a).findings)
    if (f.rule == "plugs") {
      ++told;
      EXPECT_EQ(f.severity, findings::Severity::Note);
      EXPECT_EQ(base::text(f.sentence).find('['), std::string::npos) << base::text(f.sentence);
    }
  EXPECT_EQ(told, 3);
}

}  // namespace
}  // namespace yw::testyard
