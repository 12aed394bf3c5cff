#pragma once
#include <vector>

#include "core/yard/yard.h"

namespace yw::edit {

/// Takes the records out of the yard so that nothing is left that names them. What cannot stand without them
/// goes too (what is in a box, the ports of a controller, the feeds of a prop, notes about it); the rest only
/// forgets them. A run whose last stretch of pixels goes, and an array whose last member goes, go too.
void removeWithAllThatNamesThem(yard::Yard& yard, const std::vector<base::Id>& ids);

}  // namespace yw::edit
