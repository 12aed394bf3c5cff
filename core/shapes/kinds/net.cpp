#include <algorithm>

#include "core/shapes/kinds/kinds.h"
#include "core/shapes/panel.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

constexpr double kRoll = 6 * kInch;     // across a rolled net (common practice)
constexpr double kCord = 0.25 * kInch;  // three-wire cord (common practice)

base::Result<Shape> makeNet(const yard::Prop& prop) {
  const auto panel = panelOf(prop);
  if (!panel) return tl::unexpected(panel.error());
  const Sizes size(prop);
  ShapeBuilder build(panel->cols * panel->rows);
  addPanel(build, *panel, prop);
  const double half = 0.3048 / 2;  // the outer foot of the bush (common practice)
  build.footprintBox(-size.metres("width") / 2, -half, size.metres("width") / 2, half);
  // The bush takes the wind; the net adds its cord.
  build.windArea(static_cast<double>(build.count()) * size.metres("pitch") * kCord,
                 size.metres("width") * size.metres("height"));
  build.cut("net", size.metres("height"), 1, "net", size.metres("width"));
  build.keep("net, rolled", 1, std::min(size.metres("width"), size.metres("height")), kRoll, kRoll, {"net"});
  build.fasten("cable tie", 4);  // its corners
  return build.finish(gridStart(panel->grid), gridEnd(panel->grid));
}

}  // namespace

Kind netKind() {
  Kind kind;
  kind.name = "net";
  kind.label = "Bush net";
  kind.help = "A loose net over a bush; counts hold, places of single pixels are near enough";
  kind.alongPath = kind.onWall = false;
  kind.sizes = {
      lengthSize("width", "Width", base::feet(5), "Of the net, spread out"),
      lengthSize("height", "Height", base::feet(3), "Of the net, spread out"),
      pitchSize(base::inches(4)),
      lengthSize("foot", "Clear under it", {0}, "From the ground to the lower edge", {0}),
  };
  kind.choices = {panelOrderChoice(), cornerChoice(), rowsGoChoice()};
  kind.make = makeNet;
  return kind;
}

}  // namespace yw::shapes
