#pragma once
#include <array>
#include <string>
#include <vector>

#include "core/assess/assess.h"
#include "core/base/message.h"
#include "core/edit/change.h"
#include "core/routes/places.h"

// Planners over a whole yard: each gives one change with the reasons for it.
namespace yw::propose {

using base::Id;

/// One part of a proposal that a person may take or leave: a run's feeds, a run, an address.
struct PlanStep {
  Id subject;
  base::Message reason;
  /// Kept as they are, these records leave the step out; empty: the subject does.
  std::vector<Id> keep{};
};

struct YardPlan {
  edit::Change change;          ///< empty: nothing to better
  std::vector<PlanStep> steps;  ///< what is done, in the order of their subjects
  /// Limits that cannot be met, which and by how much; the rest of the plan stands.
  std::vector<PlanStep> cannot;
  double costBefore = 0.0, costAfter = 0.0;  ///< of what the plan is about, in the yard's currency
  double bound = 0.0;                        ///< no plan of the planner's model costs less
  /// (costAfter - bound) / costAfter, 0..1.
  double gap() const { return costAfter > 0 ? (costAfter - bound) / costAfter : 0.0; }
};

/// Cheapest feeds for these runs (none: all runs with a port or a feed). Feeds that are there stay where they
/// hold and the new ones would not be clearly cheaper, and wherever a run, its feeds or its props are kept as
/// they are. Judged at the brightness limit with the yard's margins; checked by the circuit of the whole
/// yard.
YardPlan planFeedsOf(const assess::AssessmentPtr& assessment, const std::vector<Id>& runs = {});

/// Ports, order and direction for all props that are ready, being built or in repair, and the feeds that the
/// changed runs then need.
YardPlan planPortsOf(const assess::AssessmentPtr& assessment);

/// Controllers with ports for what is not wired yet, where the free ports of its volts do not suffice: in the
/// box nearest to it, or in a new one; there a receiver instead where a controller is near enough to feed it
/// and that costs less. How many ports is common practice; no bound is given.
YardPlan planControllersOf(const assess::AssessmentPtr& assessment);

/// Supplies for what hangs on each box and for what is not wired yet: how many, of which rating, and which
/// power section or feed hangs on which. Supplies that are there cost nothing. Boxes kept as they are stay.
YardPlan planSuppliesOf(const assess::AssessmentPtr& assessment);

/// An outlet for each supply: breakers and receptacles at most 80 % loaded, leakage within what a GFCI holds,
/// cords as short as can be.
YardPlan planCircuitsOf(const assess::AssessmentPtr& assessment);

/// A place for each box among those allowed: where one stands now, beside an outlet, beside a prop; copper,
/// cords and reach decide. Boxes kept as they are stay.
YardPlan planSitesOf(const assess::AssessmentPtr& assessment);

/// Start addresses by port, each box with room to grow; addresses given before stay unless they overlap.
YardPlan planAddressesOf(const assess::AssessmentPtr& assessment);

/// Trenches in which the cables of a box lie together, where a metre of trench has a price: each placed for
/// what digging and wire come to with it. Trenches that are there stay.
YardPlan planTrenchesOf(const assess::AssessmentPtr& assessment);

/// A cover or duct wherever cables cross a walk or drive without provision.
YardPlan planCoversOf(const assess::AssessmentPtr& assessment);

/// How many findings are Danger, Won't work and Close to limit: fewer of the worst come first.
std::array<std::int64_t, 3> graveness(const assess::Assessment& a);

/// 'Keep as is' of that kind (`feed`, `port`, `address`) on the record.
bool keptAsIs(const yard::Yard& yard, Id subject, const std::string& what);

/// Of a supply where the yard knows none of its volts (common practice, no source).
inline constexpr double kUsualSupplyWatts = 350.0;

/// What a controller with that many ports costs (our own judgement, no source).
double controllerCost(std::int64_t ports);
/// And a receiver, without its link.
double receiverCost(std::int64_t ports);

/// What a supply of that kind costs where no price is said (our own judgement, no source).
double supplyCost(const yard::Supply& supply);

using routes::pricePerMetre;

/// A cover or duct over a walk or drive, over those a cable crosses without provision, and what a way costs
/// by them.
double coverPrice(const yard::Yard& yard, Id way);
double coverCost(const yard::Yard& yard, const std::vector<Id>& ways);
double coverCost(const assess::Assessment& a, const routes::Lie& lie);

}  // namespace yw::propose
