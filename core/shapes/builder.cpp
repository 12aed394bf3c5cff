#include "core/shapes/builder.h"

#include <algorithm>
#include <cmath>

#include "core/shapes/sizes.h"

namespace yw::shapes {

ShapeBuilder::ShapeBuilder(std::int64_t pixels) {
  shape_.pixels.reserve(static_cast<std::size_t>(pixels));
  shape_.hop.reserve(static_cast<std::size_t>(pixels));
}

void ShapeBuilder::startRow(std::string name) {
  shape_.rows.push_back({std::move(name), count() + 1, count()});
}

void ShapeBuilder::add(Vec3 at) { addByWire(at, 0.0); }

void ShapeBuilder::addByWire(Vec3 at, double wire) {
  if (!shape_.pixels.empty()) shape_.hop.push_back(std::max(wire, base::distance(shape_.pixels.back(), at)));
  shape_.pixels.push_back(at);
}

void ShapeBuilder::endRow(std::string landmark) {
  shape_.rows.back().last = count();
  shape_.joints.push_back({count(), std::move(landmark)});
}

void ShapeBuilder::part(std::string name, std::int64_t first, std::int64_t last) {
  if (first <= last) shape_.parts.push_back({std::move(name), {{first, last}}});
}

void ShapeBuilder::part(std::string name, std::vector<yard::Range> ranges) {
  if (!ranges.empty()) shape_.parts.push_back({std::move(name), std::move(ranges)});
}

void ShapeBuilder::part(std::string name, const std::function<bool(Vec3)>& belongs) {
  NamedRanges part{std::move(name), {}};
  for (std::int64_t k = 1; k <= count(); ++k) {
    if (!belongs(shape_.pixels[static_cast<std::size_t>(k - 1)])) continue;
    if (!part.ranges.empty() && part.ranges.back().last == k - 1)
      part.ranges.back().last = k;
    else
      part.ranges.push_back({k, k});
  }
  if (!part.ranges.empty()) shape_.parts.push_back(std::move(part));
}

void ShapeBuilder::footprintBox(double left, double front, double right, double back) {
  shape_.footprint = {{left, front}, {right, front}, {right, back}, {left, back}};
}

void ShapeBuilder::footprintSector(double radius, double arc) {
  const bool full = arc >= 2 * kPi - 1e-9;
  const int steps = std::max(4, static_cast<int>(std::lround(48 * arc / (2 * kPi))));
  shape_.footprint.clear();
  for (int i = 0; i < (full ? steps : steps + 1); ++i) {
    const double angle = -arc / 2 + arc * i / steps;
    shape_.footprint.push_back({radius * std::sin(angle), -radius * std::cos(angle)});
  }
  if (!full) shape_.footprint.push_back({0, 0});
}

void ShapeBuilder::material(std::string what, double length, std::int64_t pieces) {
  shape_.materials.push_back({std::move(what), base::toLength({length}), pieces});
}

void ShapeBuilder::lengthFact(std::string name, double metres) {
  fact(std::move(name), base::toLength({metres}));
}

void ShapeBuilder::warn(std::string key, std::map<std::string, base::Fact> facts) {
  shape_.warnings.push_back({std::move(key), std::move(facts)});
}

Shape ShapeBuilder::finish(std::string inLandmark, std::string outLandmark) {
  double left = 0, right = 0, top = 0;
  bool first = true;
  const auto widen = [&](Vec3 p) {
    left = first ? p.x : std::min(left, p.x);
    right = first ? p.x : std::max(right, p.x);
    top = first ? p.z : std::max(top, p.z);
    first = false;
  };
  for (const Vec3& p : shape_.pixels) widen(p);
  for (const auto& line : shape_.frame)
    for (const Vec3& p : line) widen(p);
  shape_.height = base::toLength({top});
  shape_.width = base::toLength({right - left});
  shape_.in = {shape_.pixels.front(), std::move(inLandmark)};
  shape_.out = {shape_.pixels.back(), std::move(outLandmark)};
  return std::move(shape_);
}

}  // namespace yw::shapes
