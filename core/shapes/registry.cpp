#include <algorithm>

#include "core/shapes/kinds/kinds.h"

namespace yw::shapes {

const std::vector<Kind>& kinds() {
  static const std::vector<Kind> all = {
      straightStripKind(),   stripPoleKind(), archKind(),      ringKind(),          discGridKind(),
      concentricRingsKind(), starKind(),      snowflakeKind(), spinnerKind(),       coneTreeKind(),
      smallConeTreeKind(),   meshPanelKind(), netKind(),       hookedCaneKind(),    trunkWrapKind(),
      pathStakesKind(),      eaveLineKind(),  gableKind(),     windowOutlineKind(), doorOutlineKind(),
      figureKind(),          hungLineKind(),  dropLineKind(),  hoopTunnelKind(),    sphereKind(),
      floodKind(),           ownKind(),
  };
  return all;
}

const Kind* findKind(const std::string& name) {
  const auto found =
      std::find_if(kinds().begin(), kinds().end(), [&](const Kind& k) { return k.name == name; });
  return found == kinds().end() ? nullptr : &*found;
}

}  // namespace yw::shapes
