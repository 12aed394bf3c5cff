#pragma once
#include <string>
#include <vector>

#include "core/routes/routes.h"

namespace yw::routes {

/// A joint that does not mate by itself: the adapter for it, by its own two ends.
struct Adapter {
  CableKey cable;
  bool atFarEnd = false;          ///< of the cable
  std::string nearPlug, farPlug;  ///< families; the near one is towards the controller
  yard::PlugEnd nearEnd = yard::PlugEnd::Male, farEnd = yard::PlugEnd::Female;
};

/// Families that are both known and not the same word, or two like ends: they need an adapter.
bool mates(const std::string& nearPlug, yard::PlugEnd nearEnd, const std::string& farPlug,
           yard::PlugEnd farEnd);

/// Family of the plugs on a port's lead end; empty: screwed.
std::string plugOfPort(const yard::Yard& yard, Id port);

/// Joints of leads and jumpers of ready-made wire (Wire::plug) that do not mate. A lead's end towards the
/// controller is male, its other end female (common practice, no source: the live side has no bare pins).
/// Wire without plugs of its own is fitted at each end to what it joins.
std::vector<Adapter> adaptersOf(const yard::Yard& yard, const Routes& routes);

}  // namespace yw::routes
