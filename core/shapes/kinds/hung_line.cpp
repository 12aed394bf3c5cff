#include <algorithm>
#include <cmath>

#include "core/shapes/hang.h"
#include "core/shapes/kinds/kinds.h"
#include "core/shapes/lines.h"
#include "core/shapes/sizes.h"
#include "core/shapes/stock.h"

namespace yw::shapes {
namespace {

constexpr double kRope = 0.125 * kInch;     // coated wire rope
constexpr double kCarrier = 0.5 * kInch;    // bullets on a three-wire cord (our judgement)
constexpr double kPixelWeight = 0.0108862;  // kg, a bullet with its wire (0.024 lb, from a hobby build page)

struct Ornament {
  double x, line;  ///< where it hangs and how high the line is there
  double drop;     ///< from the line to its top
};

struct HungLine {
  double span, spacing, sag, height, drop, diameter;
  std::int64_t each;
  bool level;  ///< the bottoms line up; else every drop is alike
  std::vector<Ornament> ornaments;
  std::vector<Vec2> ring = {};  ///< of each ornament, from its middle: x, z

  void hang(std::int64_t count) {
    // Without ends the first one hangs one spacing in; what is spare is shared by both ends.
    const double used = spacing * static_cast<double>(count - 1), first = (span - used) / 2;
    const double lowest = height - sag - drop;
    for (std::int64_t k = 0; k < count; ++k) {
      const double along = std::clamp(first + spacing * static_cast<double>(k), 0.0, span);
      const double line = lineHeight(height, sag, along / span);
      ornaments.push_back({along - span / 2, line, level ? line - lowest : drop});
    }
  }
};

/// Rounds the ring from its top and back to it; the wire then runs up, along the line and down again.
void addOrnament(ShapeBuilder& build, const Ornament& o, const HungLine& h, std::size_t number,
                 double wireBefore) {
  const double radius = h.diameter / 2;
  const Vec3 middle{o.x, 0, o.line - o.drop - radius};
  const std::string name = "ornament " + std::to_string(number + 1);
  const std::int64_t first = build.count() + 1;
  build.startRow(name);
  for (const Vec2 from : h.ring) {
    build.addByWire({middle.x + from.x, 0, middle.z + from.y}, wireBefore);
    wireBefore = 0.0;
  }
  build.endRow(name + ", top");
  build.part(name, first, build.count());
  build.frameLine({{o.x, 0, o.line}, {o.x, 0, o.line - o.drop}});
  build.frameLine(Arc{middle, radius, 0, 2 * kPi}.line());
  build.cut("rod", kPi * h.diameter, 1, name);
  build.cut("hanger cord", o.drop, 1, "drop of " + name);
}

void addLine(ShapeBuilder& build, const HungLine& h) {
  std::vector<Vec3> line;
  for (int i = 0; i <= 32; ++i)
    line.push_back({h.span * (i / 32.0 - 0.5), 0, lineHeight(h.height, h.sag, i / 32.0)});
  build.frameLine(std::move(line));
  for (const double x : {-h.span / 2, h.span / 2}) build.frameLine({{x, 0, 0}, {x, 0, h.height}});
}

void describe(ShapeBuilder& build, const HungLine& h) {
  const auto count = static_cast<double>(h.ornaments.size());
  const double rope = lineLength(h.span, h.sag), radius = h.diameter / 2;
  build.cut("wire rope", rope, 1, "line, without its ends");
  build.keep("ornament", static_cast<std::int64_t>(count), h.diameter, h.diameter, kCarrier, {"rod"});
  build.thing("turnbuckle", 1);
  build.fasten("wire rope clip", 4);  // two an end (common practice)
  build.fasten("cable tie", static_cast<std::int64_t>(count) * h.each);
  build.windArea(rope * kRope + count * kPi * h.diameter * kCarrier,
                 rope * kRope + count * kPi * radius * radius);
  build.swept({radius, h.ornaments.front().line - h.ornaments.front().drop - radius, true});
  const double load = weightOf(build.cuts()) + count * static_cast<double>(h.each) * kPixelWeight;
  build.fact("pull at each end", base::Mass{std::llround(endPull(load, h.span, h.sag) * 1e6)});
  build.lengthFact("take-up from twice the sag", takeUpTravel(h.span, 2 * h.sag, h.sag));
  build.lengthFact("sag when it stretches 0.1 %", stretchSag(h.span, 0.001));
  build.fact("pixels on an ornament", h.each);
  build.lengthFact("true pitch", kPi * h.diameter / static_cast<double>(h.each));
  build.lengthFact(
      "longest drop",
      std::max_element(h.ornaments.begin(), h.ornaments.end(), [](const Ornament& a, const Ornament& b) {
        return a.drop < b.drop;
      })->drop);
}

base::Result<HungLine> hungLineOf(const yard::Prop& prop) {
  const Sizes size(prop);
  HungLine h{size.metres("span"),
             size.metres("spacing"),
             size.metres("sag"),
             size.metres("height"),
             size.metres("drop"),
             size.metres("ring_diameter"),
             0,
             size.chosen("bottoms", "level"),
             {}};
  const bool withEnds = size.chosen("ends", "with");
  const std::int64_t count = countAlong(h.span, h.spacing) + (withEnds ? 1 : -1);
  h.each = countAlong(kPi * h.diameter, size.metres("pitch"));
  if (count < 1)
    return tl::unexpected(sizeError("spacing", "shape_no_ornament",
                                    {{"span", size.length("span")}, {"spacing", size.length("spacing")}}));
  if (h.each == 0)
    return tl::unexpected(
        *checkPixels(0, "ring_diameter", size.length("ring_diameter"), size.length("pitch")));
  if (auto error = checkPixels(count * h.each, "span", size.length("span"), size.length("pitch")))
    return tl::unexpected(*error);
  const double lowest = h.height - h.sag - h.drop - h.diameter;
  if (lowest < 0)
    return tl::unexpected(sizeError(
        "height", "shape_hangs_in_the_ground",
        {{"height", size.length("height")}, {"least", base::toLength({h.sag + h.drop + h.diameter})}}));
  h.hang(count);
  for (std::int64_t k = 0; k < h.each; ++k) {
    const double turn = 2 * kPi * (static_cast<double>(k) + 0.5) / static_cast<double>(h.each);
    h.ring.push_back({h.diameter / 2 * std::sin(turn), h.diameter / 2 * std::cos(turn)});
  }
  return h;
}

base::Result<Shape> makeHungLine(const yard::Prop& prop) {
  const auto h = hungLineOf(prop);
  if (!h) return tl::unexpected(h.error());
  const auto count = static_cast<std::int64_t>(h->ornaments.size());
  ShapeBuilder build(count * h->each);
  for (std::size_t k = 0; k < h->ornaments.size(); ++k) {
    const double before = k == 0 ? 0.0 : h->ornaments[k - 1].drop + h->spacing + h->ornaments[k].drop;
    addOrnament(build, h->ornaments[k], *h, k, before);
  }
  addLine(build, *h);
  describe(build, *h);
  const double half = std::max(h->diameter / 2, 0.15 * 0.3048);
  build.footprintBox(-h->span / 2 - half, -half, h->span / 2 + half, half);
  return build.finish("top of ornament 1", "top of ornament " + std::to_string(count));
}

}  // namespace

Kind hungLineKind() {
  Kind kind;
  kind.name = "hung_line";
  kind.label = "Hung line of ornaments";
  kind.help = "Rings hung from a line between two posts; their drops follow from its sag";
  kind.alongPath = kind.onWall = false;
  kind.sizes = {
      lengthSize("span", "Span", base::feet(24), "From post to post"),
      lengthSize("spacing", "Ornament to ornament", base::inches(18), "Along the line"),
      lengthSize("height", "Line above ground", base::feet(10), "At the posts"),
      lengthSize("sag", "Sag in the middle", base::inches(6), "Less sag pulls harder on the posts"),
      lengthSize("drop", "Line to ornament", base::inches(12),
                 "Of every ornament; with level bottoms, of the one where the line is lowest", {0}),
      lengthSize("ring_diameter", "Ornament's diameter", base::inches(12), "Of the ring of pixels"),
      pitchSize(halfInches(5)),
  };
  kind.choices = {
      {"ends", "At the posts", {{"without", "No ornament"}, {"with", "An ornament too"}}},
      {"bottoms", "Drops", {{"level", "Bottoms line up"}, {"alike", "All alike, bottoms follow the sag"}}},
  };
  kind.make = makeHungLine;
  return kind;
}

}  // namespace yw::shapes
