#include "core/shapes/ground_level.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

struct Spot {
  double x, y, height, weight;  ///< place relative to the point asked for
};

std::vector<Spot> spotsAround(const yard::Yard& yard, Vec2 at) {
  constexpr double kNear = 1e-6;  // square metres: a spot right there decides
  std::vector<Spot> spots;
  for (const auto& [id, spot] : yard::all<yard::SpotHeight>(yard)) {
    const Vec2 d = base::vec(spot->at) - at;
    spots.push_back({d.x, d.y, base::metres(spot->height).si, 1 / (base::dot(d, d) + kNear)});
  }
  return spots;
}

double weightedMean(const std::vector<Spot>& spots) {
  double sum = 0, weights = 0;
  for (const Spot& s : spots) {
    sum += s.weight * s.height;
    weights += s.weight;
  }
  return weights > 0 ? sum / weights : 0.0;
}

}  // namespace

double groundHeight(const yard::Yard& yard, Vec2 at) {
  const std::vector<Spot> spots = spotsAround(yard, at);
  const double mean = weightedMean(spots);
  if (spots.size() < 3) return mean;
  // Weighted least squares of height = c + a x + b y, about the weighted middle.
  double w = 0, mx = 0, my = 0;
  for (const Spot& s : spots) {
    w += s.weight;
    mx += s.weight * s.x;
    my += s.weight * s.y;
  }
  mx /= w;
  my /= w;
  double xx = 0, xy = 0, yy = 0, xh = 0, yh = 0;
  for (const Spot& s : spots) {
    const double x = s.x - mx, y = s.y - my, h = s.height - mean;
    xx += s.weight * x * x;
    xy += s.weight * x * y;
    yy += s.weight * y * y;
    xh += s.weight * x * h;
    yh += s.weight * y * h;
  }
  const double determinant = xx * yy - xy * xy;
  if (determinant <= 1e-9 * (xx + yy) * (xx + yy)) return mean;  // all on a line
  const double a = (xh * yy - yh * xy) / determinant, b = (yh * xx - xh * xy) / determinant;
  return mean - a * mx - b * my;
}

Reveals levelTops(const std::vector<double>& ground, const std::vector<double>& heights, double least) {
  Reveals out;
  for (std::size_t i = 0; i < ground.size(); ++i)
    out.top = i == 0 ? ground[i] + heights[i] : std::max(out.top, ground[i] + heights[i]);
  out.top += least;
  for (std::size_t i = 0; i < ground.size(); ++i) out.each.push_back(out.top - heights[i] - ground[i]);
  return out;
}

RowReveals levelRow(const yard::Yard& yard, const std::vector<yard::Id>& props, double least) {
  RowReveals row;
  std::vector<double> ground, heights;
  for (const yard::Id id : props) {
    const auto* prop = yard::find<yard::Prop>(yard, id);
    if (!prop) continue;
    const auto shape = make(*prop);
    if (!shape) continue;
    row.props.push_back(id);
    ground.push_back(groundHeight(yard, base::vec(prop->at)));
    heights.push_back(base::metres(shape->height).si);
  }
  row.reveals = levelTops(ground, heights, least);
  return row;
}

Reveals levelLegs(const yard::Yard& yard, const yard::Prop& prop, std::int64_t legs, double radius,
                  double least) {
  const Placement place = placementOf(yard, prop);
  std::vector<double> ground;
  for (std::int64_t k = 0; k < legs; ++k) {
    const double turn = 2 * kPi * static_cast<double>(k) / static_cast<double>(legs);
    const Vec3 foot = place.toYard({radius * std::sin(turn), -radius * std::cos(turn), 0});
    ground.push_back(groundHeight(yard, base::plan(foot)));
  }
  return levelTops(ground, std::vector<double>(ground.size(), 0.0), least);
}

namespace {

/// All sizes of a cone tree.
base::Result<yard::Prop> completeCone(const yard::Prop& prop) {
  yard::Prop complete = usualProp(prop.kind);
  for (const auto& [name, value] : prop.sizes) complete.sizes[name] = value;
  const Kind* kind = findKind(prop.kind);
  if (!complete.sizes.count("base_diameter"))
    return tl::unexpected(sizeError("kind", "level_not_a_cone", {{"kind", kind ? kind->label : prop.kind}}));
  return complete;
}

}  // namespace

base::Result<Reveals> levelRing(const yard::Yard& yard, const yard::Prop& prop) {
  const auto complete = completeCone(prop);
  if (!complete) return tl::unexpected(complete.error());
  constexpr std::int64_t kUsualLegs = 8;
  const Sizes size(*complete);
  const std::int64_t stakes = size.count("ring_stakes");
  return levelLegs(yard, prop, stakes > 0 ? stakes : kUsualLegs, size.metres("base_diameter") / 2,
                   size.metres("foot"));
}

base::Result<std::vector<StripOnSlope>> stripsOnSlope(const yard::Yard& yard, const yard::Prop& prop) {
  const auto shape = make(prop);
  if (!shape) return tl::unexpected(shape.error());
  const auto complete = completeCone(prop);
  if (!complete) return tl::unexpected(complete.error());
  const Sizes size(*complete);
  const Placement place = placementOf(yard, prop);
  const double middle = groundHeight(yard, place.at), foot = size.metres("foot");
  const double run = (size.metres("base_diameter") - size.metres("top_diameter")) / 2;
  const double pitch = base::metres(shape->truePitch).si;
  std::vector<StripOnSlope> strips;
  for (std::int64_t k = 0; k < size.count("strips"); ++k) {
    // Frame lines of a cone are its strips, lower end first.
    const Vec3 low = shape->frame[static_cast<std::size_t>(k)].front();
    StripOnSlope strip;
    strip.ground = groundHeight(yard, base::plan(place.toYard(low))) - middle;
    strip.length = std::hypot(foot + size.metres("height") - (foot + strip.ground), run);
    strip.pixels = countAlong(strip.length, pitch);
    if (strip.pixels == 0)
      return tl::unexpected(*checkPixels(0, "height", base::toLength({strip.length}), shape->truePitch));
    strips.push_back(strip);
  }
  return strips;
}

}  // namespace yw::shapes
