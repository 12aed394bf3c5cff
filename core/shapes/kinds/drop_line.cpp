#include <algorithm>

#include "core/shapes/builder.h"
#include "core/shapes/kinds/kinds.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

constexpr double kCarrier = 0.5 * kInch;  // bullets on a three-wire cord (our judgement)
constexpr int kPattern = 6;

/// Pixels on the drops of one repeat; a 0 ends it.
std::vector<std::int64_t> patternOf(const Sizes& size) {
  std::vector<std::int64_t> pattern;
  for (int k = 1; k <= kPattern; ++k) {
    const std::int64_t pixels = size.count("drop_" + std::to_string(k));
    if (pixels == 0) break;
    pattern.push_back(pixels);
  }
  return pattern;
}

struct DropLine {
  double length, spacing, pitch;
  std::vector<std::int64_t> drops;  ///< pixels on each
  bool folded;  ///< down every other pixel and up the others; else down, then back by wire
  bool fromRight;

  double x(std::size_t drop) const {
    const double from = (length - spacing * static_cast<double>(drops.size() - 1)) / 2;
    const double along = from + spacing * static_cast<double>(drop);
    return fromRight ? length - along : along;
  }
  /// Below the line, of the k-th pixel in string order.
  double depth(std::int64_t pixels, std::int64_t k) const {
    if (!folded) return static_cast<double>(k + 1) * pitch;
    const std::int64_t down = (pixels + 1) / 2;  // 1st, 3rd … on the way down, the others on the way up
    return static_cast<double>(k < down ? 2 * k + 1 : 2 * (pixels - 1 - k) + 2) * pitch;
  }
};

void addDrop(ShapeBuilder& build, const DropLine& d, std::size_t drop, double wireUp) {
  const std::int64_t pixels = d.drops[drop];
  const std::string name = "drop " + std::to_string(drop + 1);
  build.startRow(name + (d.folded ? ", down and up" : ", down"));
  for (std::int64_t k = 0; k < pixels; ++k) {
    const double depth = d.depth(pixels, k);
    build.addByWire({d.x(drop), 0, -depth}, k == 0 && build.count() > 0 ? wireUp + d.spacing + depth : 0.0);
  }
  build.endRow(name + (d.folded ? ", top" : ", bottom"));
  build.frameLine({{d.x(drop), 0, 0}, {d.x(drop), 0, -static_cast<double>(pixels) * d.pitch}});
}

/// `drops of 5`: all drops of one length are a part.
void addLengthParts(ShapeBuilder& build, const DropLine& d) {
  std::map<std::int64_t, std::vector<yard::Range>> byLength;
  std::int64_t first = 1;
  for (const std::int64_t pixels : d.drops) {
    auto& ranges = byLength[pixels];
    if (!ranges.empty() && ranges.back().last == first - 1)
      ranges.back().last = first + pixels - 1;
    else
      ranges.push_back({first, first + pixels - 1});
    first += pixels;
  }
  for (auto& [pixels, ranges] : byLength) build.part("drops of " + std::to_string(pixels), std::move(ranges));
}

base::Result<DropLine> dropLineOf(const yard::Prop& prop) {
  const Sizes size(prop);
  DropLine d{size.metres("length"),          size.metres("spacing"),       size.metres("pitch"), {},
             size.chosen("order", "folded"), size.chosen("start", "right")};
  const std::vector<std::int64_t> pattern = patternOf(size);
  const std::int64_t drops = countAlong(d.length, d.spacing);
  if (drops == 0)
    return tl::unexpected(sizeError("length", "shape_no_pixels",
                                    {{"length", size.length("length")}, {"pitch", size.length("spacing")}}));
  if (drops > kMostPixels)
    return tl::unexpected(
        sizeError("spacing", "shape_too_many_pixels_counted", {{"count", drops}, {"most", kMostPixels}}));
  std::int64_t total = 0;
  for (std::int64_t k = 0; k < drops; ++k)
    total += d.drops.emplace_back(pattern[static_cast<std::size_t>(k) % pattern.size()]);
  if (total > kMostPixels)
    return tl::unexpected(
        sizeError("length", "shape_too_many_pixels_counted", {{"count", total}, {"most", kMostPixels}}));
  return d;
}

base::Result<Shape> makeDropLine(const yard::Prop& prop) {
  const auto d = dropLineOf(prop);
  if (!d) return tl::unexpected(d.error());
  std::int64_t total = 0, longest = 0;
  for (const std::int64_t pixels : d->drops) {
    total += pixels;
    longest = std::max(longest, pixels);
  }
  ShapeBuilder build(total);
  for (std::size_t k = 0; k < d->drops.size(); ++k) {
    const double up = k == 0 ? 0.0 : -build.pixel(build.count()).z;  // the wire comes back without pixels
    addDrop(build, *d, k, up);
  }
  addLengthParts(build, *d);
  build.frameLine({{0, 0, 0}, {d->length, 0, 0}});
  const double half = 0.15 * 0.3048;
  build.footprintBox(-half, -half, d->length + half, half);
  const double hung = static_cast<double>(total) * d->pitch;
  build.windArea(hung * kCarrier, d->length * static_cast<double>(longest) * d->pitch);
  build.cut("pipe", d->length, 1, "carrier under the eave");
  build.fasten("clip", tiesAlong(d->length, kTieEvery));
  build.lengthFact("true pitch", d->pitch);
  build.fact("drops", static_cast<std::int64_t>(d->drops.size()));
  build.lengthFact("longest drop", static_cast<double>(longest) * d->pitch);
  const std::string last = "drop " + std::to_string(d->drops.size());
  return build.finish("top of drop 1", (d->folded ? "top of " : "bottom of ") + last);
}

}  // namespace

Kind dropLineKind() {
  Kind kind;
  kind.name = "drop_line";
  kind.label = "Drops under an eave";
  kind.help = "Drops of a repeating pattern under a line; its place is the left end of the line";
  kind.alongPath = false;
  kind.onWall = true;
  kind.sizes = {
      lengthSize("length", "Length", base::feet(20), "Of the line that the drops hang from"),
      lengthSize("spacing", "Drop to drop", base::inches(8), "Half of it is free at each end"),
      pitchSize(base::inches(3)),
  };
  const std::int64_t usual[kPattern] = {3, 5, 2, 4, 0, 0};
  for (int k = 0; k < kPattern; ++k) {
    SizeInfo drop =
        countSize("drop_" + std::to_string(k + 1), "Pixels on drop " + std::to_string(k + 1), usual[k],
                  k == 0 ? 1 : 0, 500, k == 0 ? "The pattern repeats" : "0: the pattern ends before it");
    kind.sizes.push_back(k == 0 ? drop : onlyOver(drop, "drop_" + std::to_string(k), 0));
  }
  kind.choices = {
      {"order",
       "Each drop",
       {{"doubled", "Down, and back by wire without pixels"},
        {"folded", "Down every other pixel and up the others"}}},
      {"start", "Starts at, seen from the front", {{"left", "Left"}, {"right", "Right"}}},
  };
  kind.make = makeDropLine;
  return kind;
}

}  // namespace yw::shapes
