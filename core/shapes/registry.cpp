#include <algorithm>

#include "core/shapes/kinds/kinds.h"

namespace yw::shapes {

const std::vector<Kind>& kinds() {
  static const std::vector<Kind> all = {
      straightStripKind(),
      archKind(),
      ringKind(),
  };
  return all;
}

const Kind* findKind(const std::string& name) {
  const auto found =
      std::find_if(kinds().begin(), kinds().end(), [&](const Kind& k) { return k.name == name; });
  return found == kinds().end() ? nullptr : &*found;
}

}  // namespace yw::shapes
