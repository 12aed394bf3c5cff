#pragma once
// Props laid out together: in a line, an arc, a grid, along a path, mirrored; and changed together.
#include <utility>
#include <vector>

#include "core/shapes/shape.h"

namespace yw::shapes {

/// Where one prop of a row stands.
struct Spot {
  Point at;
  base::Angle heading;
  bool operator==(const Spot&) const = default;
};

/// `count` places from `from` to `to`, both taken; one: in the middle.
std::vector<Spot> inLine(Point from, Point to, std::int64_t count, base::Angle heading);
/// Along part of a circle, from the angle `start` over `sweep` (0: to plan +x, anticlockwise); every front
/// faces away from the middle, or towards it.
std::vector<Spot> inArc(Point middle, Length radius, base::Angle start, base::Angle sweep, std::int64_t count,
                        bool facingIn);
/// Rows of columns, `across` and `deep` apart, the first at `from`; row by row.
std::vector<Spot> inGrid(Point from, std::int64_t columns, std::int64_t rows, Length across, Length deep,
                         base::Angle heading);
/// Evenly along a path, both ends taken; fronts face to the right of the way walked. Empty for a path of no
/// length.
std::vector<Spot> alongPath(const std::vector<Point>& path, std::int64_t count);

/// In the order one walks past them: by how far each is along the path, ties as they were.
std::vector<Spot> numberedAlong(std::vector<Spot> spots, const std::vector<Point>& walk);

/// The prop as its mirror image about the line x = `axis` of the plan (of its wall, for wall props): its
/// place, heading, path, leans and the choices of side, turn and corner.
yard::Prop mirrored(const yard::Prop& prop, Length axis);

/// A prop for each spot, alike but for place, heading and name: `Arch 1`, `Arch 2` … from `firstNumber` on.
std::vector<yard::Prop> propsAt(const yard::Prop& like, const std::vector<Spot>& spots,
                                std::int64_t firstNumber = 1);

/// What else of the array changes when one member is changed from `before` to `after`: the others that are
/// not detached, with the same sizes, choices, pixel, mount and status; names, places and headings stay. A
/// detached member changes nothing but itself.
std::vector<std::pair<yard::Id, yard::Prop>> followers(const yard::Yard& yard, yard::Id changed,
                                                       const yard::Prop& before, const yard::Prop& after);

}  // namespace yw::shapes
