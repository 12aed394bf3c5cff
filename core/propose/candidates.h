#pragma once
#include <vector>

#include "core/propose/propose.h"

namespace yw::propose {

using base::Id;

/// What a remedy may look at.
struct Case {
  const assess::Assessment& a;
  const findings::Finding& finding;
};

/// Changes that may cure the finding, the best first; propose.cpp tries them on copies. One function a remedy
/// key.
std::vector<Proposal> feedRun(const Case& c);
std::vector<Proposal> feedSection(const Case& c);
std::vector<Proposal> splitRun(const Case& c);
std::vector<Proposal> splitAtChange(const Case& c);
std::vector<Proposal> rightFuse(const Case& c);
std::vector<Proposal> smallerFuse(const Case& c);
std::vector<Proposal> relieveSupply(const Case& c);
std::vector<Proposal> shortenReach(const Case& c);
std::vector<Proposal> freeAddress(const Case& c);
std::vector<Proposal> moveOutlet(const Case& c);
std::vector<Proposal> plugIn(const Case& c);
std::vector<Proposal> raiseProp(const Case& c);
std::vector<Proposal> provideCrossing(const Case& c);
std::vector<Proposal> leaveKeepOut(const Case& c);
std::vector<Proposal> endAtLast(const Case& c);
std::vector<Proposal> cutPositive(const Case& c);
std::vector<Proposal> joinZero(const Case& c);
std::vector<Proposal> ownReturn(const Case& c);
std::vector<Proposal> cutNewLead(const Case& c);
std::vector<Proposal> coolBox(const Case& c);
std::vector<Proposal> protectCircuit(const Case& c);
std::vector<Proposal> otherReceptacle(const Case& c);
std::vector<Proposal> thickerCord(const Case& c);
std::vector<Proposal> straightCord(const Case& c);
std::vector<Proposal> stagger(const Case& c);

/// Plugging that supply into each other outlet, the nearest first.
std::vector<Proposal> toOutlets(const Case& c, Id supply);

/// The fuse position a feed for these pixels would come from: free, of the product's voltage, shortest way.
struct FeedChoice {
  Id position;  ///< none: a new one is added to `supply`
  Id supply;
  double length = 0.0;  ///< m, on plan
};
/// Best first; `taken` are positions used earlier in the same change.
std::vector<FeedChoice> feedChoices(const assess::Assessment& a, Id prop, std::int64_t pixel,
                                    const std::vector<Id>& taken);

/// Adds feeds at places (1-based) along the run to `editor`; false when no fuse position can be had.
bool addFeeds(const assess::Assessment& a, edit::Editor& editor, Id run,
              const std::vector<std::int64_t>& places, std::vector<Id>& feeds);

/// Cuts V+ at every feed whose supply is no longer the one that the run's part before it has.
void cutBetweenSupplies(const assess::Assessment& a, edit::Editor& editor);

/// Places along the run where the string can be cut into: ends of props, rows and strips. 1-based, sorted.
std::vector<std::int64_t> jointPlaces(const assess::Assessment& a, Id run);

/// Smallest figure behind a fuse: wire, its plugs, and the strings of the run (0: none known).
double weakestBehind(const assess::Assessment& a, Id wire, Id run);

/// The first free port that can take a run like this one: same voltage, on the same or the nearest box.
std::vector<Id> freePortsNear(const assess::Assessment& a, Id port, Id product);

}  // namespace yw::propose
