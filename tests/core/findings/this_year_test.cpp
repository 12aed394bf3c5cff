// A prop that rests counts in nothing: the yard is the same as one in which it was never strung.
#include "core/yard/this_year.h"

#include <gtest/gtest.h>

#include "tests/core/findings/test_yard.h"

namespace yw {
namespace {

using namespace yw::testyard;

/// Ring, arch and a second arch on one run, the first arch fed at pixel 10.
struct ThreeProps : TestYard {
  Id last, feed;
  ThreeProps() {
    last = addProp("arch", "Arch 2", at(9, 3));
    set<yard::Run>(run, [&](yard::Run& r) { r.items.push_back(stretch(last)); });
    feed = addFeed(fuses[0], arch, 10);
  }
};

/// The same without the middle prop on the run.
assess::AssessmentPtr without(ThreeProps y) {
  y.e.remove(y.feed);
  y.set<yard::Run>(y.run, [](yard::Run& r) { r.items.erase(r.items.begin() + 1); });
  return assess::assess(y.e.yard());
}

assess::AssessmentPtr resting(ThreeProps y, PropStatus status) {
  y.set<Prop>(y.arch, [&](Prop& p) { p.status = status; });
  return assess::assess(y.e.yard());
}

TEST(ThisYear, ARestingPropCountsInNoVoltNoAmpNoAddressAndNoLead) {
  ThreeProps y;
  const auto never = without(y);
  for (const PropStatus status : {PropStatus::NotThisYear, PropStatus::Idea}) {
    const auto rests = resting(y, status);
    EXPECT_EQ(rests->layouts.at(y.run)->pixels.size(), never->layouts.at(y.run)->pixels.size());
    EXPECT_EQ(rests->limit.runs.at(y.run).volts, never->limit.runs.at(y.run).volts);
    EXPECT_EQ(rests->limit.runs.at(y.run).portAmps, never->limit.runs.at(y.run).portAmps);
    EXPECT_EQ(rests->fullWhite.supplies.at(y.supply).amps, never->fullWhite.supplies.at(y.supply).amps);
    EXPECT_EQ(rests->limit.circuits.at(y.circuit).amps, never->limit.circuits.at(y.circuit).amps);
    EXPECT_EQ(rests->data.runs.at(y.run).pixels, never->data.runs.at(y.run).pixels);
    EXPECT_EQ(rests->data.runs.at(y.run).hops.size(), never->data.runs.at(y.run).hops.size());
    EXPECT_EQ(rests->routes.cables.size(), never->routes.cables.size());
    EXPECT_EQ(rests->totals.leadLength, never->totals.leadLength);
    EXPECT_EQ(rests->totals.feeds, 0);
  }
}

TEST(ThisYear, TheRunGoesOnPastItByItsOwnJumperAndKeepsItsItems) {
  ThreeProps y;
  const auto rests = resting(y, PropStatus::NotThisYear);
  EXPECT_FALSE(rests->routes.cables.contains({routes::CableRole::Jumper, y.run, 1}));
  const auto past = rests->routes.cables.find({routes::CableRole::Jumper, y.run, 2});
  ASSERT_NE(past, rests->routes.cables.end());
  EXPECT_EQ(past->second.from.record, y.ring);
  EXPECT_EQ(past->second.to.record, y.last);
  EXPECT_EQ(find<yard::Run>(rests->yard, y.run)->items.size(), 3U);
  bool told = false;
  for (const auto& finding : findings::report(*rests).findings)
    if (finding.sentence.key == "resting_passed") {
      told = true;
      EXPECT_NE(base::text(finding.sentence).find("Arch 2"), std::string::npos);
      EXPECT_EQ(std::get<base::Length>(finding.sentence.facts.at("length")), past->second.cutLength);
    }
  EXPECT_TRUE(told);
}

TEST(ThisYear, AYardWithoutRestingPropsIsItself) {
  const ThreeProps y;
  EXPECT_EQ(thisYear(y.e.yard()), y.e.yard());
  ThreeProps one;
  one.set<Prop>(one.last, [](Prop& p) { p.status = PropStatus::Idea; });
  const Yard now = thisYear(one.e.yard());
  EXPECT_EQ(now.records.at(one.ring), one.e.yard().records.at(one.ring)) << "what does not change is shared";
  EXPECT_NE(now.records.at(one.run), one.e.yard().records.at(one.run));
}

}  // namespace
}  // namespace yw
