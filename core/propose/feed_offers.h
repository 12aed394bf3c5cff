#pragma once
#include <map>
#include <vector>

#include "core/circuit/yard_network.h"
#include "core/propose/feed_plan.h"
#include "core/propose/plan.h"

// What the runs of a yard are to the planner of feeds: feed_plan.h's plain figures, and what each option of
// them stands for.
namespace yw::propose {

/// What an option stands for.
struct FeedOffer {
  base::Id supply, wire;
  base::Current fuse;
  double length = 0.0;  ///< m
};

/// What a run asks for and what could be done.
struct AskedRun {
  base::Id run;
  FeedRun figures;
  std::vector<FeedOffer> offers;   ///< one an option
  std::vector<base::Id> supplies;  ///< of FeedRun::supplyVolts
  double raise = 0.0, share = 1.0;
  bool cutEverywhere = false;  ///< V+ is cut before each feed, so that a lost one loads no other
  double costBefore = 0.0;
  bool heldBefore = false;
  std::vector<base::Id> feedsBefore;
  FeedPlan plan;
};

/// Offers for runs of the yard `before`; `bare` is the same without the feeds that are planned anew.
class FeedOffers {
 public:
  FeedOffers(assess::AssessmentPtr before, assess::AssessmentPtr bare);
  /// The run's figures, from its port's supply and at each place the nearest other of its volts.
  void figure(AskedRun& asked) const;
  /// One supply more for a run whose supplies have too little left (`room`, A): of those hardly farther than
  /// the nearest, the one with most left.
  void addAnother(AskedRun& asked, const std::map<base::Id, double>& room) const;
  /// The fuse a port should have: its own where that protects its wires.
  base::Current portFuse(const AskedRun& asked, const yard::Port& port, base::Id wire) const;
  base::Id leadWire(const AskedRun& asked) const;

 private:
  routes::Lie wayTo(Id supply, const circuit::RunPixel& at) const;
  std::int32_t supplyNumber(AskedRun& asked, base::Id supply) const;
  void addPort(AskedRun& asked) const;
  /// Usual feed wire, the next thinner and the next thicker copper one.
  std::vector<base::Id> wires() const;
  /// Supplies a feed may come from: the port's, and the nearest other of the same volts.
  std::vector<base::Id> suppliesFor(const AskedRun& asked, const circuit::RunLayout& layout,
                                    std::size_t place) const;
  void addOffers(AskedRun& asked, const circuit::RunLayout& layout) const;
  /// All that one supply can do at one place.
  void offerFrom(AskedRun& asked, const circuit::RunLayout& layout, base::Id supply, std::size_t k) const;
  void offer(AskedRun& asked, std::size_t k, base::Id supply, base::Id wireId, double length, double covers,
             bool cut) const;
  const yard::Yard& yard() const { return before_->yard; }
  assess::AssessmentPtr before_, bare_;
  circuit::YardNetwork net_;
};

/// Of a feed of that wire and length, m.
double feedCost(const yard::Wire& wire, double length);

/// The volts a pixel of the product must keep; 0 without one.
double leastVoltsOf(const yard::Product* product);

struct RunMiss {
  double volts = 0.0, fuse = 0.0;  ///< below the lowest volts; share of a fuse over what may be planned
  std::size_t place = 0;
};
/// Does the run keep its limits in that yard? `miss`: by how much not.
bool runHolds(const assess::Assessment& a, base::Id run, RunMiss* miss);

/// A that the run takes from each supply.
std::map<base::Id, double> takenFromSupplies(const assess::Assessment& a, base::Id run);

}  // namespace yw::propose
