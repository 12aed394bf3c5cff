#include "core/shapes/kinds/kinds.h"
#include "core/shapes/panel.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

constexpr double kStrand = 0.0015;     // thickness of a strand of plastic mesh, metres (common practice)
constexpr double kNodeRadius = 0.006;  // 12 mm bullet (common practice)

/// Solid share of the panel's face: sheet is all solid, mesh has its strands and the bullets in it.
double solidity(const yard::Prop& prop, std::int64_t pixels, double gross) {
  const double hole = meshSpacing(prop);
  if (hole == 0) return 1;
  const double open = 1 - kStrand / hole;
  return std::min(1.0,
                  1 - open * open + static_cast<double>(pixels) * kPi * kNodeRadius * kNodeRadius / gross);
}

base::Result<Shape> makeMeshPanel(const yard::Prop& prop) {
  const auto panel = panelOf(prop);
  if (!panel) return tl::unexpected(panel.error());
  const Sizes size(prop);
  const double width = size.metres("width"), height = size.metres("height"), foot = size.metres("foot");
  ShapeBuilder build(panel->cols * panel->rows);
  addPanel(build, *panel, prop);
  for (const double x : {-width / 2, width / 2})
    if (foot > 0) build.frameLine({{x, 0, 0}, {x, 0, foot}});
  const double half = 0.15 * 0.3048;  // a flat frame, 0.3 ft deep (common practice)
  build.footprintBox(-width / 2, -half, width / 2, half);
  const double solid = solidity(prop, build.count(), width * height);
  build.windArea(solid * width * height, width * height);
  build.fact("solid share", base::toRatio(solid));
  build.cut("frame pipe", width, 2, "top and bottom of the frame");
  build.cut("frame pipe", height + foot, 2, "sides of the frame");
  build.cut(meshSpacing(prop) == 0 ? "sheet" : "mesh", height, 1, "face", width);
  build.fasten("cable tie", 2 * (tiesAlong(width, kMeshTieEvery) + tiesAlong(height, kMeshTieEvery)));
  // A fold line at half of its height halves it (common practice).
  build.keep("panel with its legs, folded on a line at half of its height", 1, width, height / 2 + foot,
             2 * kKeptDepth, {"frame pipe", "mesh", "sheet"});
  if (facesOf(size) == 2) build.backFace(kFaceDepth);
  return build.finish(gridStart(panel->grid), facesOf(size) == 2 ? kBackEnd : gridEnd(panel->grid));
}

}  // namespace

Kind meshPanelKind() {
  Kind kind;
  kind.name = "mesh_panel";
  kind.label = "Mesh panel";
  kind.help = "A flat grid of pixels on mesh or sheet in a frame, strung there and back";
  kind.alongPath = kind.onWall = false;
  kind.sizes = {
      lengthSize("width", "Width", base::feet(4), "Of the frame"),
      lengthSize("height", "Height", base::feet(8), "Of the frame"),
      pitchSize(base::inches(2)),
      lengthSize("foot", "Clear under it", base::inches(12), "From the ground to the lower edge", {0}),
  };
  kind.choices = {
      panelOrderChoice(), cornerChoice(), rowsGoChoice(), backingChoice("Solid sheet"), facesChoice(),
  };
  kind.make = makeMeshPanel;
  return kind;
}

}  // namespace yw::shapes
