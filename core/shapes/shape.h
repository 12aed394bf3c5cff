#pragma once
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/base/point.h"
#include "core/base/result.h"
#include "core/yard/yard.h"

namespace yw::shapes {

using base::Length;
using base::Point;
using base::Vec2;
using base::Vec3;

/// A place between pixels where the builder can cut in: a row, strip or side ends here.
struct Joint {
  std::int64_t afterPixel;  ///< 1-based; the joint lies between it and the next; the last pixel: the out end
  std::string landmark;     ///< `strip 3, top`, `west foot`, `row 5, right`
};

/// Where data goes in or out.
struct End {
  Vec3 at;               ///< prop's own frame, metres
  std::string landmark;  ///< `bottom of strip 1`, `right foot`
};

/// A stretch of the prop's string that the builder counts on its own.
struct Row {
  std::string name;          ///< `strip 1, up`, `row 3`
  std::int64_t first, last;  ///< 1-based pixel numbers
};

struct NamedRanges {
  std::string name;  ///< `upper half`, `level 2`
  std::vector<yard::Range> ranges;
};

/// Stock that the prop is made of: the sum of its cuts and things of one name.
struct MaterialLine {
  std::string what;  ///< `pixel strip`, `pipe`, `mesh`
  Length length;     ///< total; for counted things 0
  std::int64_t pieces;
};

/// Alike pieces to cut from stock (stock.h knows what it weighs and how it is sold).
struct Cut {
  std::string stock;  ///< `pipe`, `pixel strip`, `mesh`
  Length length;      ///< of each piece
  Length width;       ///< of sheet, mesh and net; else 0
  std::int64_t pieces;
  std::string use;  ///< `half of the ring`, `strip`
};

struct Fastener {
  std::string what;  ///< `cable tie`, `hook`
  std::int64_t count;
};

/// Alike parts as they go into the shed once the prop is taken apart.
struct Stored {
  std::string what;             ///< `half of the ring`, `pipe, bundled`
  std::int64_t pieces;          ///< of the parts themselves
  Length length, width, depth;  ///< of all of them laid together, the longest side first
};

/// A circle in the front plane, or round the upright axis, that must stay clear because the prop turns in it.
struct Swept {
  double radius = 0.0;  ///< metres; 0: nothing turns
  double height = 0.0;  ///< of its middle above the prop's zero
  bool level = false;   ///< turns round the upright axis, as hung things do in the wind
};

/// A prop's geometry, all computed. Frame: x to the right as seen from the front, y away from the viewer,
/// z up; metres. For wall props the origin is the anchor on the wall.
struct Shape {
  std::vector<Vec3> pixels;  ///< in string order
  /// Wire length between pixel k and k+1 (0-based k), metres: never less than the straight distance; the
  /// string's wire spacing applies on top when the circuit is built.
  std::vector<double> hop;
  End in, out;
  std::vector<Joint> joints;             ///< in string order; the last is the out end
  std::vector<Row> rows;                 ///< cover 1..N once, in string order
  std::vector<NamedRanges> parts;        ///< by kind: halves, levels, arms
  std::vector<std::vector<Vec3>> frame;  ///< lines of the structure, for drawing
  std::vector<Vec2> footprint;           ///< closed outline on the ground, own frame (x, y)
  Length height;                         ///< top above the prop's zero
  Length width;                          ///< over all, seen from the front
  double windArea = 0.0;                 ///< m², projected, strips and structure as the kind says
  double windGross = 0.0;                ///< m² that its outline encloses; windArea over it: solidity
  double windHeight = 0.0;               ///< middle of the wind area above the prop's zero, m
  double weight = 0.0;                   ///< kg of structure and fittings, without its pixels
  Swept swept;
  Length askedPitch, truePitch;  ///< as typed, and as its holes, mesh or closed loop make it
  std::vector<MaterialLine> materials;
  std::vector<Cut> cuts;
  std::vector<Fastener> fasteners;
  std::vector<Stored> stored;  ///< every part once
  std::map<std::string, base::Fact>
      facts;  ///< by kind: `true pitch`, `slant`, `top spacing` … for form and sheet
  std::vector<base::Message> warnings;  ///< `topper too small for its strips`
};

/// Share of the enclosed area that stops the wind, 0 to 1.
inline double solidity(const Shape& shape) {
  return shape.windGross > shape.windArea ? shape.windArea / shape.windGross : 1.0;
}

/// How a size is asked for.
enum class SizeType { Length, Count, Angle, Ratio };
/// When a size or choice makes a difference: while a choice has one of some options, or a count is over some
/// number. `name` empty: always.
struct Needs {
  std::string name;                  ///< of a choice or of a count
  std::vector<std::string> options;  ///< of that choice; empty: it is a count
  std::int64_t over = 0;
};
struct SizeInfo {
  std::string name;   ///< key in Prop::sizes
  std::string label;  ///< `Height`
  SizeType type;
  std::int64_t usual;  ///< default, stored units
  std::int64_t least, most;
  std::string help;
  Needs needs = {};
};
struct ChoiceInfo {
  std::string name;                       ///< key in Prop::choices
  std::string label;                      ///< `String order`
  std::vector<yard::ChoiceWord> options;  ///< the first is the default
  Needs needs = {};
};

/// One kind of prop: everything the rest of the program knows of it.
struct Kind {
  std::string name;   ///< `cone_tree`, in the file
  std::string label;  ///< `Cone tree`
  std::string help;   ///< one sentence
  /// Takes Prop::path: x and y on the ground; of kinds that hang on a wall usually, x and z (up), on a wall
  /// or not.
  bool alongPath;
  bool onWall;  ///< hung on a wall usually
  std::vector<SizeInfo> sizes;
  std::vector<ChoiceInfo> choices;
  /// Makes the geometry from a complete, range-checked map of sizes and choices.
  base::Result<Shape> (*make)(const yard::Prop& prop);
  /// What usualProp() draws for kinds along a path; empty for the others.
  std::vector<Point> usualPath = {};
  /// What usualProp() draws for kinds made of Prop::lines; empty for the others.
  std::vector<yard::OwnLine> usualLines = {};
};

/// All kinds, in the order of the Place strip.
const std::vector<Kind>& kinds();
const Kind* findKind(const std::string& name);

/// Whether a size or choice of that prop makes a difference to it as its others stand.
bool counts(const Needs& needs, const Kind& kind, const yard::Prop& prop);
/// `with Curve: Half circle by its radius`, `with Hoops over 1`; empty: always.
std::string needsText(const Needs& needs, const Kind& kind);

/// The most pixels one prop may have; more is refused in words.
inline constexpr std::int64_t kMostPixels = 200'000;

/// The prop's geometry. Fills missing sizes and choices with the kind's defaults; errors name the field:
/// unknown kind, size or choice, out of range, contradictory sizes, zero pixels, too many pixels.
base::Result<Shape> make(const yard::Prop& prop);

/// The same of each of them, on every core where they are many; in their order.
std::vector<base::Result<Shape>> makeAll(const std::vector<const yard::Prop*>& props);

/// Of the warnings of a shape that can be drawn the one that says it cannot be built as it is: a topper too
/// small for its strips. A form refuses to make a prop so; a yard that has one keeps it, with the warning.
std::optional<base::Error> unbuildable(const Shape& shape);

/// How far apart the mount of a complete prop has holes: its mesh, or its size `hole_spacing`; 0: drilled.
Length holeSpacing(const yard::Prop& complete);
/// The pitch that such holes give: the nearest multiple, halves up, never less than one hole.
Length onHoles(Length pitch, Length hole);

/// A prop of that kind with its usual sizes.
yard::Prop usualProp(const std::string& kind);

/// Place of an own-frame point in the yard (metres; x east, y north, z up). A wall prop is put on its wall.
struct Placement {
  Vec2 at;            ///< plan place of the prop's origin
  double base = 0.0;  ///< height of its zero
  double cosHeading = 1.0, sinHeading = 0.0;
  Vec3 toYard(Vec3 own) const {
    return {at.x + own.x * cosHeading - own.y * sinHeading, at.y + own.x * sinHeading + own.y * cosHeading,
            base + own.z};
  }
  Vec3 toOwn(Vec3 yard) const {
    const double dx = yard.x - at.x, dy = yard.y - at.y;
    return {dx * cosHeading + dy * sinHeading, -dx * sinHeading + dy * cosHeading, yard.z - base};
  }
};
/// Heading 0: the front faces plan -y, so own x is plan x. On a wall: own x runs along the wall from -> to.
Placement placementOf(const yard::Yard& yard, const yard::Prop& prop);

}  // namespace yw::shapes
