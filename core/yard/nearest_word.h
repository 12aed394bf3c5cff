#pragma once
#include <string>
#include <vector>

namespace yw::yard {

/// The word of `known` that takes the fewest typing slips to get from `typed`; empty when none is near.
std::string nearestWord(const std::string& typed, const std::vector<std::string>& known);

}  // namespace yw::yard
