#include <set>

#include "core/routes/routes.h"

namespace yw::routes {

namespace {

using yard::Cable;
using yard::TerminalKind;

struct Ends {
  yard::Terminal from, to;  ///< in the way of the current
};

/// The record's ends if it is a cord to a box; `to` is the box.
bool leadsToBox(const Cable& cable, Ends& ends) {
  ends = {cable.from, cable.to};
  if (ends.to.kind != TerminalKind::Box) std::swap(ends.from, ends.to);
  const bool mains = cable.conductors == yard::ConductorSet::Mains || ends.from.kind == TerminalKind::Outlet;
  return mains && ends.to.kind == TerminalKind::Box &&
         (ends.from.kind == TerminalKind::Outlet || ends.from.kind == TerminalKind::Box) &&
         ends.from.record != ends.to.record;
}

}  // namespace

BoxCords boxCords(const yard::Yard& yard) {
  BoxCords out;
  for (const auto& [id, cable] : yard::all<Cable>(yard)) {
    Ends ends;
    if (!leadsToBox(*cable, ends) || yard::find<yard::Box>(yard, ends.to.record) == nullptr) continue;
    out.cords.try_emplace(ends.to.record, BoxCords::Cord{id, ends.from, {}});
  }
  for (auto& [box, cord] : out.cords) {
    std::set<Id> seen{box};
    yard::Terminal at = cord.from;
    while (at.kind == TerminalKind::Box && seen.insert(at.record).second) {
      const auto before = out.cords.find(at.record);
      if (before == out.cords.end()) break;
      at = before->second.from;
    }
    if (at.kind == TerminalKind::Outlet && yard::find<yard::Outlet>(yard, at.record) != nullptr)
      cord.outlet = at.record;
  }
  std::erase_if(out.cords, [](const auto& entry) { return !entry.second.outlet; });
  return out;
}

std::vector<CableKey> cordsTo(const yard::Yard& yard, const BoxCords& boxes, Id supplyId) {
  const auto* supply = yard::find<yard::Supply>(yard, supplyId);
  if (supply == nullptr || yard::find<yard::Outlet>(yard, supply->outlet) == nullptr) return {};
  auto cord = boxes.cords.find(supply->box);
  if (cord == boxes.cords.end() || cord->second.outlet != supply->outlet)
    return {{CableRole::MainsCord, supplyId, 0}};
  std::vector<CableKey> keys;
  for (; cord != boxes.cords.end(); cord = boxes.cords.find(cord->second.from.record)) {
    keys.insert(keys.begin(), {CableRole::MainsCord, cord->second.record, 0});
    if (cord->second.from.kind == TerminalKind::Outlet) break;
  }
  return keys;
}

}  // namespace yw::routes
