#include <algorithm>
#include <cmath>

#include "core/shapes/kinds/kinds.h"
#include "core/shapes/lines.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

constexpr double kPipe = 0.840 * kInch;  // outside of 1/2 in plastic or rigid pipe (conduit tables)
constexpr double kHalfDepth = 0.15 * 0.3048;

struct Cane {
  double stem, radius, foot;
  bool toLeft;
  Arc hook() const { return {{radius, 0, foot + stem}, radius, kPi, 0}; }
  double length() const { return stem + kPi * radius; }
  Vec3 at(double along) const {
    Vec3 p = along <= stem ? Vec3{0, 0, foot + along} : hook().at(kPi - (along - stem) / radius);
    if (toLeft) p.x = -p.x;
    return p;
  }
};

void addPixels(ShapeBuilder& build, const Cane& cane, std::int64_t pixels, double pitch, bool fromBottom) {
  const std::int64_t onStem = std::min(pixels, countAlong(cane.stem + pitch / 2, pitch));
  const auto stretch = [&](const char* name, std::int64_t from, std::int64_t to, const char* landmark) {
    if (to <= from) return;
    const std::int64_t first = build.count() + 1;
    build.startRow(std::string(name) + (fromBottom ? ", up" : ", down"));
    for (std::int64_t k = 0; k < to - from; ++k)
      build.add(cane.at((static_cast<double>(fromBottom ? from + k : to - 1 - k) + 0.5) * pitch));
    build.endRow(landmark);
    build.part(name, first, build.count());
  };
  if (fromBottom) stretch("stem", 0, onStem, "top of the stem");
  stretch("hook", onStem, pixels, fromBottom ? "end of the hook" : "top of the stem");
  if (!fromBottom) stretch("stem", 0, onStem, "foot");
}

base::Result<Shape> makeHookedCane(const yard::Prop& prop) {
  const Sizes size(prop);
  const Cane cane{size.metres("stem"), size.metres("hook_radius"), size.metres("foot"),
                  size.chosen("hook", "left")};
  const double pitch = size.metres("pitch");
  const std::int64_t pixels = countAlong(cane.length(), pitch);
  if (auto error = checkPixels(pixels, "stem", base::toLength({cane.length()}), size.length("pitch")))
    return tl::unexpected(*error);
  const bool fromBottom = size.chosen("in_end", "bottom");
  ShapeBuilder build(pixels);
  addPixels(build, cane, pixels, pitch, fromBottom);
  std::vector<Vec3> line = {{0, 0, 0}};
  for (int i = 0; i <= 24; ++i) line.push_back(cane.at(cane.stem + kPi * cane.radius * i / 24));
  build.frameLine(std::move(line));
  const double far = cane.toLeft ? -2 * cane.radius : 2 * cane.radius;
  build.footprintBox(std::min(0.0, far) - kHalfDepth, -kHalfDepth, std::max(0.0, far) + kHalfDepth,
                     kHalfDepth);
  build.windArea(cane.length() * kPipe);
  build.cut("pipe", cane.length(), 1, "stem and hook");
  build.keep("stem and hook, bent", 1, cane.stem + cane.radius + kPipe / 2, 2 * cane.radius + kPipe, kPipe,
             {"pipe"});
  build.cut("stake bar", cane.foot + 2 * kInGround, 1, "bar in the stem");
  build.lengthFact("true pitch", pitch);
  build.lengthFact("arc length", kPi * cane.radius);
  build.lengthFact("whole length", cane.length());
  return build.finish(fromBottom ? "foot" : "end of the hook", fromBottom ? "end of the hook" : "foot");
}

}  // namespace

Kind hookedCaneKind() {
  Kind kind;
  kind.name = "hooked_cane";
  kind.label = "Hooked cane";
  kind.help = "A straight stem with a half circle on top";
  kind.alongPath = kind.onWall = false;
  kind.sizes = {
      lengthSize("stem", "Stem", base::inches(36), "Straight part that carries pixels"),
      lengthSize("hook_radius", "Hook radius", base::inches(8), "Of the half circle on top"),
      pitchSize(base::inches(2)),
      lengthSize("foot", "Bottom above ground", base::inches(3), "From the ground to the lower end", {0}),
  };
  kind.choices = {
      {"hook", "Hook points, seen from the front", {{"right", "Right"}, {"left", "Left"}}},
      {"in_end", "Data goes in at", {{"bottom", "Foot"}, {"hook", "End of the hook"}}},
  };
  kind.make = makeHookedCane;
  return kind;
}

}  // namespace yw::shapes
