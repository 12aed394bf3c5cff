#include "core/yard/groups.h"

#include "core/yard/this_year.h"

namespace yw::yard {

Id controllerOf(const Yard& yard, const Port& port) {
  const auto* receiver = find<Receiver>(yard, port.owner);
  return receiver && receiver->controller ? receiver->controller : port.owner;
}

std::map<std::string, GroupHanging> groupsHung(const Yard& yard) {
  std::map<std::string, GroupHanging> hung;
  for (const auto& [id, run] : all<Run>(yard)) {
    const auto* port = find<Port>(yard, run->port);
    for (const RunItem& item : run->items) {
      const auto* prop = find<Prop>(yard, item.prop);
      if (!port || !prop || prop->group.empty() || rests(*prop)) continue;
      hung[prop->group].controllers.insert(controllerOf(yard, *port));
      hung[prop->group].props.insert(item.prop);
    }
  }
  return hung;
}

}  // namespace yw::yard
