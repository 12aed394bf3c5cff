#pragma once
// One function a kind, each in the file of its name. registry.cpp lists them in the order of the Place strip.
#include "core/shapes/shape.h"

namespace yw::shapes {

Kind straightStripKind();
Kind stripPoleKind();
Kind archKind();
Kind ringKind();
Kind discGridKind();
Kind concentricRingsKind();
Kind starKind();
Kind snowflakeKind();
Kind spinnerKind();
Kind coneTreeKind();
Kind smallConeTreeKind();
Kind meshPanelKind();
Kind netKind();
Kind hookedCaneKind();
Kind trunkWrapKind();
Kind pathStakesKind();
Kind eaveLineKind();
Kind gableKind();
Kind windowOutlineKind();
Kind doorOutlineKind();
Kind figureKind();
Kind hungLineKind();
Kind dropLineKind();
Kind hoopTunnelKind();
Kind sphereKind();
Kind floodKind();
Kind ownKind();

}  // namespace yw::shapes
