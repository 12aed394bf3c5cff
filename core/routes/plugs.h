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

/// What a lead finds at a place: the family there, and which end.
struct Socket {
  std::string plug;  ///< empty: not known or screwed, so whatever comes is fitted to it
  yard::PlugEnd end = yard::PlugEnd::Female;
};
/// Of a port, or of a prop's IN or OUT; nothing is known inside a prop, where a string is cut.
Socket socketOf(const yard::Yard& yard, const yard::Terminal& terminal);

/// Families that are both known and not the same word, or two like ends: they need an adapter.
bool mates(const std::string& nearPlug, yard::PlugEnd nearEnd, const std::string& farPlug,
           yard::PlugEnd farEnd);

/// Adapters that a lead with such plugs needs between two sockets: 0, 1 or 2.
std::int64_t adaptersBetween(const Socket& from, const std::string& plug, const Socket& to);

/// Joints of leads and jumpers of ready-made wire (Wire::plug) that do not mate. A lead's end towards the
/// controller is male, its other end female (common practice, no source: the live side has no bare pins).
/// Wire without plugs of its own is fitted at each end to what it joins.
std::vector<Adapter> adaptersOf(const yard::Yard& yard, const Routes& routes);

}  // namespace yw::routes
