#include <algorithm>

#include "core/shapes/kinds/kinds.h"
#include "core/shapes/lines.h"
#include "core/shapes/outline.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

constexpr double kStripWidth = 1.5 * kInch;  // perforated strip is 1.5 to 2 in wide (common practice)
constexpr double kHalfBand = 0.15 * 0.3048;  // a stake takes 0.3 x 0.3 ft (common practice)

/// A thin band along the path, to the right on the way out and to the left on the way back.
std::vector<Vec2> bandAlong(const std::vector<Vec3>& corners) {
  std::vector<Vec2> right, left;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Vec2 in = base::plan(corners[i] - corners[i == 0 ? 0 : i - 1]);
    const Vec2 out = base::plan(corners[i + 1 == corners.size() ? i : i + 1] - corners[i]);
    const Vec2 unitIn = base::norm(in) > 0 ? in * (1 / base::norm(in)) : Vec2{};
    const Vec2 unitOut = base::norm(out) > 0 ? out * (1 / base::norm(out)) : Vec2{};
    Vec2 along = unitIn + unitOut;
    if (base::norm(along) < 1e-9) along = unitOut;  // the path turns right back
    const Vec2 aside = Vec2{along.y, -along.x} * (kHalfBand / base::norm(along));
    right.push_back(base::plan(corners[i]) + aside);
    left.push_back(base::plan(corners[i]) - aside);
  }
  right.insert(right.end(), left.rbegin(), left.rend());
  return right;
}

base::Result<Shape> makePathStakes(const yard::Prop& prop) {
  auto corners = pathCorners(prop, true, false);
  if (!corners) return tl::unexpected(corners.error());
  const Sizes size(prop);
  const std::int64_t stakes = size.count("stakes"), each = size.count("pixels");
  const double pitch = size.metres("pitch"), foot = size.metres("foot");
  if (stakes * each > kMostPixels)
    return tl::unexpected(sizeError("stakes", "shape_too_many_pixels_counted",
                                    {{"count", stakes * each}, {"most", kMostPixels}}));

  const Polyline path(*corners, false);
  const double step = stakes > 1 ? path.length() / static_cast<double>(stakes - 1) : 0.0;
  const double top = foot + static_cast<double>(each - 1) * pitch;
  const bool up = size.chosen("order", "up");
  // The wire runs down the stake it leaves, along the path and up the next one.
  const double gap = top + foot + step + size.metres("extra");
  ShapeBuilder build(stakes * each);
  for (std::int64_t s = 0; s < stakes; ++s) {
    const Vec3 at = path.at(std::min(path.length(), step * static_cast<double>(s)));
    const std::string name = "stake " + std::to_string(s + 1);
    build.startRow(name + (up ? ", up" : ", down"));
    for (std::int64_t k = 0; k < each; ++k)
      build.addByWire({at.x, at.y, foot + static_cast<double>(up ? k : each - 1 - k) * pitch},
                      k == 0 ? gap : 0.0);
    build.endRow(name + (up ? ", top" : ", bottom"));
    build.frameLine({at, {at.x, at.y, top + pitch / 2}});
  }
  build.footprint(bandAlong(*corners));
  build.windArea(static_cast<double>(stakes * each) * pitch * kStripWidth);
  build.cut("pixel strip", static_cast<double>(each) * pitch, stakes, "strip");
  build.cut("stake bar", top + kInGround, stakes, "stake");
  build.fasten("cable tie", stakes * tiesAlong(static_cast<double>(each) * pitch, kTieEvery));
  build.lengthFact("true pitch", pitch);
  build.lengthFact("stake to stake", step);
  build.lengthFact("path length", path.length());
  if (stakes > 1) build.lengthFact("wire from stake to stake", gap);
  return build.finish((up ? "bottom" : "top") + std::string(" of stake 1"),
                      (up ? "top" : "bottom") + std::string(" of stake ") + std::to_string(stakes));
}

}  // namespace

Kind pathStakesKind() {
  Kind kind;
  kind.name = "path_stakes";
  kind.label = "Path stakes";
  kind.help = "Short stakes evenly along a path that you draw, a few pixels on each";
  kind.alongPath = true;
  kind.onWall = false;
  kind.sizes = {
      countSize("stakes", "Stakes", 9, 1, 5000, "The first at the path's start, the last at its end"),
      countSize("pixels", "Pixels on a stake", 7, 1, 5000, ""),
      pitchSize(base::inches(3)),
      lengthSize("foot", "Lowest pixel above ground", base::inches(6), "From the ground to the lowest pixel",
                 {0}),
      onlyOver(lengthSize("extra", "Extra wire at each gap", base::inches(6),
                          "Drip loop; the wire also runs down, along and up", {0}),
               "stakes", 1),
      stripHoleSize(),
  };
  kind.choices = {{"order", "String order", {{"up", "Up each stake"}, {"down", "Down each stake"}}}};
  kind.usualPath = {{{0}, {0}}, {base::feet(20), {0}}};
  kind.make = makePathStakes;
  return kind;
}

}  // namespace yw::shapes
