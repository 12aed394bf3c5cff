#include "core/shapes/cone.h"
#include "core/shapes/kinds/kinds.h"

namespace yw::shapes {

Kind coneTreeKind() {
  Kind kind = coneKind({base::feet(12), base::feet(6), base::inches(8), base::inches(3), 16});
  kind.name = "cone_tree";
  kind.label = "Cone tree";
  kind.help = "Strips from a topper on a pole down to a base ring, a full circle or part of one";
  return kind;
}

}  // namespace yw::shapes
