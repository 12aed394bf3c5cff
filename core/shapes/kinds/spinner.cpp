#include <algorithm>
#include <cmath>

#include "core/shapes/kinds/kinds.h"
#include "core/shapes/lines.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

constexpr double kCarrier = 0.5 * kInch;  // bullets on a three-wire cord (our judgement)
constexpr double kPlate = 8 * kInch;      // of the center plate, 1/2 in thick (common practice)
constexpr double kHalfDepth = 0.15 * 0.3048;

struct Spinner {
  std::int64_t arms, pixels;  ///< pixels on one arm
  std::int64_t row;           ///< places along an arm: `pixels`, or half of them when strung out and back
  double pitch, hub, bend, bendAt, rowGap, centre;

  double armLength() const { return hub + static_cast<double>(row - 1) * pitch; }
  /// `along` from the first pixel of an arm, `aside` to its right looking outward. Arm 0 points up, then
  /// clockwise.
  Vec3 at(std::int64_t arm, double along, double aside) const {
    const double turn = 2 * kPi * static_cast<double>(arm) / static_cast<double>(arms);
    const double straight = std::min(along, bendAt), bent = along - straight;
    const double last = bent > 0 ? turn + bend : turn;
    return {(hub + straight) * std::sin(turn) + bent * std::sin(last) + aside * std::cos(last), 0,
            centre + (hub + straight) * std::cos(turn) + bent * std::cos(last) - aside * std::sin(last)};
  }
};

void addStretch(ShapeBuilder& build, const Spinner& s, std::int64_t arm, std::int64_t pixels, bool outward,
                double aside, double wireBefore) {
  const std::string name = "arm " + std::to_string(arm + 1);
  if (pixels == 0) return;
  build.startRow(name + (outward ? ", out" : ", back"));
  for (std::int64_t k = 0; k < pixels; ++k)
    build.addByWire(s.at(arm, static_cast<double>(outward ? k : pixels - 1 - k) * s.pitch, aside),
                    k == 0 ? wireBefore : 0.0);
  build.endRow(name + (outward ? ", tip" : ", middle"));
}

void addArms(ShapeBuilder& build, const Spinner& s, const Sizes& size) {
  const bool allOut = size.chosen("order", "all_out"), there = size.chosen("order", "out_and_back");
  for (std::int64_t arm = 0; arm < s.arms; ++arm) {
    const std::int64_t first = build.count() + 1;
    if (there) {
      addStretch(build, s, arm, s.row, true, s.rowGap / 2, 0);
      addStretch(build, s, arm, s.pixels - s.row, false, -s.rowGap / 2, 0);
    } else {
      // All outward: the wire comes back along the arm to the middle and goes out again to the next one.
      const double back = allOut && arm > 0 ? s.armLength() + s.hub : 0.0;
      addStretch(build, s, arm, s.pixels, allOut || arm % 2 == 0, 0, back);
    }
    build.part("arm " + std::to_string(arm + 1), first, build.count());
  }
}

Spinner spinnerOf(const Sizes& size) {
  Spinner s;
  s.arms = size.count("arms");
  s.pixels = size.count("arm_pixels") + size.count("bent_pixels");
  s.pitch = size.metres("pitch");
  s.hub = size.metres("hub_radius");
  const bool there = size.chosen("order", "out_and_back");
  s.row = there ? (s.pixels + 1) / 2 : s.pixels;
  const double straight = static_cast<double>(size.count("arm_pixels")) / (there ? 2 : 1);
  s.bendAt = size.count("bent_pixels") > 0 ? std::max(0.0, straight - 0.5) * s.pitch : s.armLength();
  s.bend = size.radians("bend");
  s.rowGap = there ? size.metres("row_gap") : 0;
  const double whole = s.armLength() - s.hub, bent = std::max(0.0, whole - s.bendAt);
  // An arm reaches farthest at its tip or at its bend; its rows stand half their gap aside.
  const double atBend = s.hub + whole - bent;
  const double atTip = std::hypot(atBend + bent * std::cos(s.bend), bent * std::sin(s.bend));
  s.centre = size.metres("stake") + std::max(atTip, atBend) + s.rowGap / 2;
  return s;
}

void describe(ShapeBuilder& build, const Spinner& s, double stake) {
  for (std::int64_t arm = 0; arm < s.arms; ++arm) {
    const double tip = s.armLength() - s.hub;
    std::vector<Vec3> line = {{0, 0, s.centre}, s.at(arm, std::min(tip, s.bendAt), 0)};
    if (tip > s.bendAt) line.push_back(s.at(arm, tip, 0));
    build.frameLine(std::move(line));
  }
  if (stake > 0) build.frameLine({{0, 0, 0}, {0, 0, s.centre}});
  const double reach = s.centre - stake;
  build.footprintBox(-reach, -kHalfDepth, reach, kHalfDepth);
  build.windArea(static_cast<double>(s.arms) * s.armLength() * kCarrier, kPi * reach * reach);
  build.cut("rod", s.armLength(), s.arms, s.bendAt < s.armLength() - s.hub ? "arm, bent" : "arm");
  if (s.bendAt < s.armLength() - s.hub) {
    const double bent = s.armLength() - s.hub - s.bendAt;
    build.keep("arm, bent", s.arms, s.hub + s.bendAt + std::max(0.0, bent * std::cos(s.bend)),
               std::max(kCarrier, bent * std::abs(std::sin(s.bend))), kCarrier, {"rod"});
  }
  build.thing("center plate", 1);
  build.keep("center plate", 1, kPlate, kPlate, kPlate / 16, {"center plate"});
  build.cut("stake bar", s.centre + kInGround, 1, "stake up to the hub");
  build.fasten("cable tie", s.arms * s.row);
  build.fasten("screw", 2 * s.arms);  // each arm to the plate
  build.swept({reach, s.centre, false});
  build.lengthFact("true pitch", s.pitch);
  build.fact("angle from arm to arm", base::toAngle(360.0 / static_cast<double>(s.arms)));
  build.lengthFact("clear radius", reach);
  build.lengthFact("center height", s.centre);
}

/// Where the last arm's string ends.
std::string outEnd(const Spinner& s, const Sizes& size) {
  const bool there = size.chosen("order", "out_and_back");
  const bool back = there ? s.pixels > s.row : size.chosen("order", "zigzag") && s.arms % 2 == 0;
  return (back ? "middle of arm " : "tip of arm ") + std::to_string(s.arms);
}

base::Result<Shape> makeSpinner(const yard::Prop& prop) {
  const Sizes size(prop);
  const Spinner s = spinnerOf(size);
  const std::int64_t hubPixels = size.count("hub_pixels"),
                     total = (s.arms * s.pixels + hubPixels) * facesOf(size);
  if (total > kMostPixels)
    return tl::unexpected(
        sizeError("arm_pixels", "shape_too_many_pixels_counted", {{"count", total}, {"most", kMostPixels}}));
  ShapeBuilder build(total);
  if (hubPixels > 0) addRing(build, {{0, 0, s.centre}, s.hub / 2, hubPixels, 12, true, "hub", true});
  build.part("hub", 1, hubPixels);
  addArms(build, s, size);
  describe(build, s, size.metres("stake"));
  const bool two = facesOf(size) == 2;
  if (two) build.backFace(kFaceDepth);
  return build.finish(hubPixels > 0 ? "12 o'clock of the hub" : "middle of arm 1",
                      two ? kBackEnd : outEnd(s, size));
}

}  // namespace

Kind spinnerKind() {
  Kind kind;
  kind.name = "spinner";
  kind.label = "Spinner";
  kind.help = "Arms round a hub, straight or bent; it stands still, the light turns";
  kind.alongPath = kind.onWall = false;
  kind.sizes = {
      countSize("arms", "Arms", 8, 2, 200, "Arm 1 points up, the next ones follow clockwise"),
      countSize("arm_pixels", "Pixels on an arm", 18, 1, 5000, "Before the bend, if it is bent"),
      countSize("bent_pixels", "Pixels after the bend", 0, 0, 5000, "0: straight arms"),
      onlyOver(angleSize("bend", "Bend", 30, -120, 120, "More than 0 bends clockwise seen from the front"),
               "bent_pixels", 0),
      pitchSize(base::inches(2)),
      countSize("hub_pixels", "Pixels on the hub", 0, 0, 5000, "In a small ring, first in the string"),
      lengthSize("hub_radius", "Middle to first pixel", base::inches(4), "Of each arm"),
      onlyWith(
          lengthSize("row_gap", "Between two rows", base::inches(1), "On an arm that is strung out and back"),
          "order", {"out_and_back"}),
      lengthSize("stake", "Clear under it", base::inches(24),
                 "From the ground to the circle that the arms reach", {0}),
  };
  kind.choices = {{"order",
                   "String order",
                   {{"zigzag", "Out on one arm, back on the next"},
                    {"out_and_back", "Out and back on each arm, two rows"},
                    {"all_out", "All outward, with return wires"}}},
                  facesChoice()};
  kind.make = makeSpinner;
  return kind;
}

}  // namespace yw::shapes
