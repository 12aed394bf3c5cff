#include "core/shapes/kinds/kinds.h"
#include "core/shapes/lines.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

constexpr double kPipe = 1.050 * kInch;  // outside of 3/4 in plastic pipe (conduit tables)

/// Two straight legs with a half circle on top.
struct Hoop {
  double radius, leg;
  double length() const { return 2 * leg + kPi * radius; }
  Vec3 at(double along) const {
    if (along <= leg) return {-radius, 0, along};
    if (along >= leg + kPi * radius) return {radius, 0, length() - along};
    return Arc{{0, 0, leg}, radius, 0, 0}.at(kPi - (along - leg) / radius);
  }
  /// Its pixels from the left foot to the right one; what is spare is shared by the two feet.
  std::vector<Vec3> pixels(std::int64_t count, double pitch) const {
    std::vector<Vec3> points;
    const double first = (length() - static_cast<double>(count - 1) * pitch) / 2;
    for (std::int64_t k = 0; k < count; ++k) points.push_back(at(first + static_cast<double>(k) * pitch));
    return points;
  }
  std::vector<Vec3> line() const {
    std::vector<Vec3> points;
    for (int i = 0; i <= 48; ++i) points.push_back(at(length() * i / 48));
    return points;
  }
};

/// One hoop `y` behind the middle of the tunnel; `pixels` and `line` as one at its middle has them.
void addHoop(ShapeBuilder& build, const std::vector<Vec3>& pixels, std::vector<Vec3> line, double y,
             bool toRight, std::int64_t number) {
  const std::string name = "hoop " + std::to_string(number);
  const std::int64_t first = build.count() + 1;
  build.startRow(name + (toRight ? ", left to right" : ", right to left"));
  for (std::size_t k = 0; k < pixels.size(); ++k) {
    const Vec3& at = pixels[toRight ? k : pixels.size() - 1 - k];
    build.add({at.x, y, at.z});
  }
  build.endRow(name + (toRight ? ", right foot" : ", left foot"));
  build.part(name, first, build.count());
  for (Vec3& at : line) at.y = y;
  build.frameLine(std::move(line));
}

base::Result<Shape> makeHoopTunnel(const yard::Prop& prop) {
  const Sizes size(prop);
  const std::int64_t hoops = size.count("hoops");
  const double radius = size.metres("radius"), leg = size.metres("leg"), gap = size.metres("hoop_gap");
  const double pitch = size.metres("pitch"), length = Hoop{radius, leg}.length();
  const std::int64_t each = countEndToEnd(length, pitch);
  if (auto error = checkPixels(each * hoops, "radius", base::toLength({length}), size.length("pitch")))
    return tl::unexpected(*error);
  const bool fromLeft = size.chosen("start", "left"), alternate = size.chosen("order", "alternate");
  const double deep = gap * static_cast<double>(hoops - 1);
  ShapeBuilder build(each * hoops);
  const Hoop hoop{radius, leg};
  const std::vector<Vec3> pixels = hoop.pixels(each, pitch), line = hoop.line();
  bool toRight = fromLeft;
  for (std::int64_t k = 0; k < hoops; ++k) {
    toRight = fromLeft != (alternate && k % 2 == 1);
    addHoop(build, pixels, line, -deep / 2 + gap * static_cast<double>(k), toRight, k + 1);
  }
  build.part("left half", [](Vec3 p) { return p.x < -1e-9; });
  build.part("right half", [](Vec3 p) { return p.x > 1e-9; });
  const double half = 0.15 * 0.3048;
  build.footprintBox(-radius - half, -deep / 2 - half, radius + half, deep / 2 + half);
  build.windArea(static_cast<double>(hoops) * length * kPipe);
  build.cut("pipe", length, hoops, "hoop");
  build.cut("pipe", deep, hoops > 1 ? 3 : 0, "ridge and sides, along the tunnel");
  build.cut("stake bar", 2 * kInGround, 2 * hoops, "bar at each foot");
  build.fasten("cable tie", hoops > 1 ? 3 * hoops : 0);
  build.lengthFact("true pitch", pitch);
  build.fact("pixels on a hoop", each);
  build.lengthFact("hoop length", length);
  build.lengthFact("clear width", 2 * radius - kPipe);
  build.lengthFact("clear height", leg + radius - kPipe / 2);
  return build.finish((fromLeft ? "left foot of hoop 1" : "right foot of hoop 1"),
                      (toRight ? "right foot of hoop " : "left foot of hoop ") + std::to_string(hoops));
}

}  // namespace

Kind hoopTunnelKind() {
  Kind kind;
  kind.name = "hoop_tunnel";
  kind.label = "Tunnel of hoops";
  kind.help = "Hoops one behind the other over a walk; hoop 1 is nearest to the front";
  kind.alongPath = kind.onWall = false;
  kind.sizes = {
      countSize("hoops", "Hoops", 6, 1, 500, "One behind the other"),
      lengthSize("radius", "Radius", base::inches(48), "Of the half circle on top"),
      lengthSize("leg", "Straight legs", base::inches(36), "Under the half circle", {0}),
      onlyOver(lengthSize("hoop_gap", "Hoop to hoop", base::feet(4), "Along the walk"), "hoops", 1),
      pitchSize(base::inches(3)),
  };
  kind.choices = {
      {"start", "Starts at", {{"left", "Left foot"}, {"right", "Right foot"}}},
      {"order",
       "Hoops",
       {{"alternate", "Over one, back over the next"}, {"same_way", "All the same way, with return wires"}},
       {"hoops", {}, 1}},
  };
  kind.make = makeHoopTunnel;
  return kind;
}

}  // namespace yw::shapes
