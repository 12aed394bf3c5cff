// Planners over a whole yard: what they propose holds in the yard's own circuit, as one change.
#include "core/propose/plan.h"

#include <gtest/gtest.h>

#include "tests/core/findings/test_yard.h"

namespace yw::testyard {
namespace {

findings::Severity worstOf(const findings::Report& report, const std::string& rule) {
  auto worst = findings::Severity::Note;
  for (const findings::Finding& f : report.findings)
    if (f.rule == rule) worst = std::min(worst, f.severity);
  return worst;
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

}  // namespace
}  // namespace yw::testyard
