#include <cmath>

#include "core/shapes/kinds/kinds.h"
#include "core/shapes/lines.h"
#include "core/shapes/panel.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

constexpr double kNodeBody = 0.006;      // from the middle of a bullet to its edge, metres (common practice)
constexpr double kPipe = 0.840 * kInch;  // outside of 1/2 in plastic or rigid pipe (conduit tables)
constexpr double kHalfDepth = 0.15 * 0.3048;
constexpr double kHair = 1e-9;  // share of the radius forgiven, so that points on the circle count

/// Rows (from the bottom up) or columns (from left to right) of the grid points inside the circle.
/// `onPoint`: a point at the middle, else a cell.
std::vector<GridLine> discLines(double radius, double pitch, bool onPoint, bool byColumns,
                                double centreHeight) {
  std::vector<GridLine> rows;
  const double reach = radius * (1 + kHair), offset = onPoint ? 0.0 : 0.5;
  const auto most = static_cast<std::int64_t>(std::floor(reach / pitch - offset));
  for (std::int64_t j = onPoint ? -most : -most - 1; j <= most; ++j) {
    const double z = (static_cast<double>(j) + offset) * pitch;
    const double half = std::sqrt(std::max(0.0, reach * reach - z * z)) / pitch;
    const auto side = static_cast<std::int64_t>(std::floor(half + offset + kHair));  // right of the middle
    const std::int64_t pixels = onPoint ? 2 * side + 1 : 2 * side;
    if (pixels > 0)
      rows.push_back({(byColumns ? 0.0 : centreHeight) + z,
                      (byColumns ? centreHeight : 0.0) - static_cast<double>(pixels - 1) * pitch / 2, pixels,
                      pitch});
  }
  return rows;
}

std::optional<base::Error> checkDisc(const Sizes& size, bool ring) {
  const double radius = size.metres("grid_radius"), pitch = size.metres("pitch");
  if (ring && 2 * radius >= size.metres("ring_diameter"))
    return sizeError(
        "grid_radius", "shape_inner_over_outer",
        {{"inner", size.length("grid_radius")}, {"outer", Length{size.count("ring_diameter") / 2}}});
  const double about = kPi * (radius / pitch) * (radius / pitch);  // only to refuse before counting
  if (about > 4.0 * kMostPixels)
    return checkPixels(static_cast<std::int64_t>(std::min(about, 1e15)), "grid_radius",
                       size.length("grid_radius"), size.length("pitch"));
  return std::nullopt;
}

/// The nodes need half a pitch and their own body between the grid's edge and the pipe.
void warnOfEdge(ShapeBuilder& build, const Sizes& size) {
  const double room = size.metres("ring_diameter") / 2 - kPipe / 2 - size.metres("pitch") / 2 - kNodeBody;
  if (size.metres("grid_radius") > room)
    build.warn("shape_grid_touches_ring",
               {{"radius", size.length("grid_radius")}, {"most", base::toLength({std::max(0.0, room)})}});
}

void addDiscGrid(ShapeBuilder& build, const Grid& grid) {
  const std::int64_t first = build.count() + 1;
  addGrid(build, grid);
  build.part("grid", first, build.count());
}

void addDiscRing(ShapeBuilder& build, const Ring& ring) {
  const std::int64_t first = build.count() + 1;
  addRing(build, ring);
  build.part("ring", first, build.count());
}

void describe(ShapeBuilder& build, const Sizes& size, const Grid& grid, const Ring& ring, double centre) {
  const double outer = ring.pixels > 0 ? ring.radius : size.metres("grid_radius");
  std::int64_t widest = 0;
  for (const GridLine& row : grid.lines) widest = std::max(widest, row.pixels);
  build.frameLine(Arc{{0, 0, centre}, outer, 0, 2 * kPi}.line());
  if (size.metres("stake") > 0) build.frameLine({{0, 0, 0}, {0, 0, size.metres("stake")}});
  build.footprintBox(-outer, -kHalfDepth, outer, kHalfDepth);
  build.windArea(kPi * outer * outer);  // the mesh nearly closes it: the gross area is on the safe side
  build.cut(size.chosen("backing", "sheet") ? "sheet" : "mesh", 2 * outer, 1, "disc, cut round", 2 * outer);
  build.cut("pipe", kPi * outer, 2, "half of the ring");
  build.thing("coupling", 2);
  build.keep("disc with its ring", 1, 2 * outer + kPipe, 2 * outer + kPipe, kKeptDepth,
             {"mesh", "sheet", "pipe", "coupling"});
  build.cut("stake bar", size.metres("stake") + kInGround, 1, "stake");
  build.fasten("cable tie", tiesAlong(2 * kPi * outer, kMeshTieEvery));
  build.fact(grid.byColumns ? "columns" : "rows", static_cast<std::int64_t>(grid.lines.size()));
  build.fact(grid.byColumns ? "longest column" : "widest row", widest);
  build.lengthFact("true pitch", size.metres("pitch"));
  if (ring.pixels > 0) {
    build.lengthFact("true pitch of the ring", 2 * kPi * ring.radius / static_cast<double>(ring.pixels));
    build.fact("ring pixels", ring.pixels);
  }
  build.lengthFact("center height", centre);
}

base::Result<Shape> makeDiscGrid(const yard::Prop& prop) {
  const Sizes size(prop);
  const bool withRing = size.chosen("ring", "with");
  if (auto error = checkDisc(size, withRing)) return tl::unexpected(*error);
  const double outer = withRing ? size.metres("ring_diameter") / 2 : size.metres("grid_radius");
  const double centre = size.metres("stake") + outer;
  const bool byColumns = size.chosen("order", "columns");
  const Grid grid{discLines(size.metres("grid_radius"), size.metres("pitch"), size.chosen("center", "point"),
                            byColumns, centre),
                  byColumns, cornerOf(prop), sameWayOf(prop), "grid"};
  std::int64_t total = 0;
  for (const GridLine& row : grid.lines) total += row.pixels;
  if (auto error =
          checkPixels(total * facesOf(size), "grid_radius", size.length("grid_radius"), size.length("pitch")))
    return tl::unexpected(*error);
  Ring ring{{0, 0, centre}, outer, 0, 6, false, "ring", false};
  if (withRing) {
    ring.pixels = countAlong(2 * kPi * outer, size.metres("ring_pitch"));
    ring.pixels -= ring.pixels % 2;
    if (auto error = checkPixels(ring.pixels, "ring_diameter", size.length("ring_diameter"),
                                 size.length("ring_pitch")))
      return tl::unexpected(*error);
    if (auto error = checkPixels((total + ring.pixels) * facesOf(size), "grid_radius",
                                 size.length("grid_radius"), size.length("pitch")))
      return tl::unexpected(*error);
  }

  ShapeBuilder build(total + ring.pixels);
  const bool ringFirst = withRing && size.chosen("first", "ring");
  if (ringFirst) addDiscRing(build, ring);
  addDiscGrid(build, grid);
  if (withRing && !ringFirst) addDiscRing(build, ring);
  describe(build, size, grid, ring, centre);
  if (withRing) warnOfEdge(build, size);
  const std::string ringEnd = "6 o'clock of the ring";
  const bool two = facesOf(size) == 2;
  if (two) build.backFace(kFaceDepth);
  return build.finish(ringFirst ? ringEnd : gridStart(grid) + " of the grid", two ? kBackEnd
                                                                              : withRing && !ringFirst
                                                                                  ? ringEnd
                                                                                  : gridEnd(grid));
}

}  // namespace

Kind discGridKind() {
  Kind kind;
  kind.name = "disc_grid";
  kind.label = "Disc with a grid";
  kind.help = "A round grid of pixels on mesh, with or without a ring around it";
  kind.alongPath = kind.onWall = false;
  kind.sizes = {
      lengthSize("grid_radius", "Grid radius", base::inches(27),
                 "Grid points within this of the middle carry pixels"),
      pitchSize(halfInches(5)),
      onlyWith(lengthSize("ring_diameter", "Ring diameter", base::inches(60), "Of the ring around the grid"),
               "ring", {"with"}),
      onlyWith(lengthSize("ring_pitch", "Ring pitch", halfInches(5), "From pixel to pixel along the ring",
                          base::millimetres(1), base::millimetres(10'000)),
               "ring", {"with"}),
      lengthSize("stake", "Clear under it", base::inches(24), "From the ground to the lowest point", {0}),
  };
  kind.choices = {
      {"ring", "Ring", {{"with", "With a ring"}, {"without", "Grid only"}}},
      {"center", "In the middle", {{"point", "A grid point"}, {"cell", "The middle of a cell"}}},
      {"first",
       "String order",
       {{"ring", "Ring, then grid"}, {"grid", "Grid, then ring"}},
       {"ring", {"with"}}},
      cornerChoice(),
      {"order", "Grid", {{"rows", "By rows"}, {"columns", "By columns"}}},
      rowsGoChoice(),
      backingChoice("Drilled sheet"),
      facesChoice(),
  };
  kind.make = makeDiscGrid;
  return kind;
}

}  // namespace yw::shapes
