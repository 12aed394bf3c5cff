#pragma once
#include <map>
#include <set>
#include <string>

#include "core/yard/yard.h"

namespace yw::yard {

/// The controller that a port hangs on: its own, or the one that feeds its receiver; a receiver that nothing
/// feeds stands for itself.
Id controllerOf(const Yard& yard, const Port& port);

/// Where the props of a group (Prop::group) hang this year.
struct GroupHanging {
  std::set<Id> controllers, props;
};
std::map<std::string, GroupHanging> groupsHung(const Yard& yard);

}  // namespace yw::yard
