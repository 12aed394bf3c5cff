#include <cmath>

#include "core/shapes/builder.h"
#include "core/shapes/kinds/kinds.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

constexpr double kStripWidth = 1.5 * kInch;  // perforated strip is 1.5 to 2 in wide (common practice)
constexpr double kFaceGap = 0.5 * kInch;     // the bar between two strips back to back (common practice)

struct Face {
  std::int64_t pixels;
  double first, pitch;  // along the strip from its foot
  double lean;          // from upright, to the right
  double foot;
};

Vec3 onFace(const Face& face, double along, double y) {
  return {along * std::sin(face.lean), y, face.foot + along * std::cos(face.lean)};
}

void addFace(ShapeBuilder& build, const Face& face, int number, int faces, bool up) {
  const std::string name = faces == 1 ? "strip" : number == 1 ? "front strip" : "back strip";
  const double y = faces == 1 ? 0.0 : number == 1 ? -kFaceGap / 2 : kFaceGap / 2;
  build.startRow(name + (up ? ", up" : ", down"));
  for (std::int64_t k = 0; k < face.pixels; ++k)
    build.add(onFace(face, face.first + static_cast<double>(up ? k : face.pixels - 1 - k) * face.pitch, y));
  build.endRow(name + (up ? ", top" : ", bottom"));
}

base::Result<Shape> makeStraightStrip(const yard::Prop& prop) {
  const Sizes size(prop);
  const double length = size.metres("length"), pitch = size.metres("pitch");
  const double gap = size.chosen("ends", "half_pitch") ? pitch / 2
                     : size.chosen("ends", "on_ends")  ? 0.0
                                                       : size.metres("end_gap");
  if (size.chosen("ends", "as_set") && 2 * gap > length)
    return tl::unexpected(sizeError("end_gap", "shape_end_gap_too_long",
                                    {{"gap", size.length("end_gap")}, {"length", size.length("length")}}));
  const int faces = size.chosen("faces", "two") ? 2 : 1;
  const std::int64_t each = countEndToEnd(length - 2 * gap, pitch);
  if (auto error = checkPixels(each * faces, "length", size.length("length"), size.length("pitch")))
    return tl::unexpected(*error);

  const Face face{each, gap, pitch, size.radians("lean"), size.metres("foot")};
  const bool fromTop = size.chosen("in_end", "top");
  ShapeBuilder build(each * faces);
  for (int f = 1; f <= faces; ++f) addFace(build, face, f, faces, (f == 1) != fromTop);

  for (int f = 1; f <= faces && faces == 2; ++f)
    build.part(f == 1 ? "front" : "back", (f - 1) * each + 1, f * each);
  build.frameLine({onFace({each, 0, 0, face.lean, 0}, 0, 0), onFace(face, 0, 0), onFace(face, length, 0)});
  const double reach = length * std::sin(face.lean), half = 0.15 * 0.3048;  // 0.3 x 0.3 ft (common practice)
  build.footprintBox(std::min(0.0, reach) - half, -half, std::max(0.0, reach) + half, half);
  build.windArea(length * kStripWidth);
  build.cut("pixel strip", length, faces, "strip");
  build.cut("stake bar", face.foot + length + size.metres("stake_depth"), 1, "stake behind the strip");
  build.keep("strip on its stake", 1, face.foot + length + size.metres("stake_depth"), kStripWidth,
             2 * kFaceGap, {"pixel strip", "stake bar"});
  build.fasten("cable tie", tiesAlong(length, kTieEvery));  // each goes round stake and strips
  build.lengthFact("true pitch", pitch);
  build.fact("pixels on a face", each);
  build.lengthFact("left over at the far end", length - gap - static_cast<double>(each - 1) * pitch);
  const std::string start = fromTop ? "top" : "bottom";
  const std::string end = (faces == 2) != fromTop ? "bottom" : "top";
  return build.finish(start + (faces == 2 ? " of the front strip" : " of the strip"),
                      end + (faces == 2 ? " of the back strip" : " of the strip"));
}

}  // namespace

Kind straightStripKind() {
  Kind kind;
  kind.name = "straight_strip";
  kind.label = "Straight strip";
  kind.help = "A strip of pixels on a stake, one face or two back to back";
  kind.alongPath = kind.onWall = false;
  kind.sizes = {
      lengthSize("length", "Length", base::feet(4), "Of the strip that carries pixels"),
      pitchSize(base::inches(3)),
      lengthSize("foot", "Bottom above ground", base::inches(3),
                 "From the ground to the lower end of the strip", {0}),
      angleSize("lean", "Lean", 0, -80, 80,
                "From upright; more than 0 leans to the right seen from the front"),
      stripHoleSize(),
      lengthSize("stake_depth", "Stake in the ground", base::inches(12), "How deep its bar is driven", {0},
                 base::feet(10)),
      onlyWith(lengthSize("end_gap", "End to first hole", base::inches(1), "At each end of the strip", {0},
                          base::feet(10)),
               "ends", {"as_set"}),
  };
  kind.choices = {
      {"faces", "Faces", {{"one", "One"}, {"two", "Two, back to back"}}},
      {"ends",
       "First hole",
       {{"half_pitch", "Half a pitch from the end"}, {"on_ends", "On the very end"}, {"as_set", "As set"}}},
      {"in_end", "Data goes in at", {{"bottom", "Bottom"}, {"top", "Top"}}},
  };
  kind.make = makeStraightStrip;
  return kind;
}

}  // namespace yw::shapes
