#include "core/shapes/cone.h"
#include "core/shapes/kinds/kinds.h"

namespace yw::shapes {

Kind smallConeTreeKind() {
  Kind kind = coneKind({base::inches(54), base::inches(24), base::inches(6), base::inches(3), 10});
  kind.name = "small_cone_tree";
  kind.label = "Small cone tree";
  kind.help = "Strips of fixed length under a top that is raised until they are taut";
  return kind;
}

}  // namespace yw::shapes
