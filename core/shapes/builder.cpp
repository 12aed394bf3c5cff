#include "core/shapes/builder.h"

#include <algorithm>
#include <cmath>
#include <functional>

#include "core/shapes/sizes.h"
#include "core/shapes/stock.h"

namespace yw::shapes {

ShapeBuilder::ShapeBuilder(std::int64_t pixels) {
  shape_.pixels.reserve(static_cast<std::size_t>(pixels));
  shape_.hop.reserve(static_cast<std::size_t>(pixels));
  constexpr std::size_t kUsual = 16;  // of what most kinds have: fewer allocations on the way there
  shape_.rows.reserve(kUsual);
  shape_.joints.reserve(kUsual);
  shape_.parts.reserve(kUsual);
  shape_.frame.reserve(kUsual);
  shape_.cuts.reserve(kUsual);
}

void ShapeBuilder::startRow(std::string name) {
  shape_.rows.push_back({std::move(name), count() + 1, count()});
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

void ShapeBuilder::windArea(double squareMetres, double gross) {
  shape_.windArea = squareMetres;
  shape_.windGross = std::max(squareMetres, gross);
}

void ShapeBuilder::cut(std::string stock, double length, std::int64_t pieces, std::string use, double width) {
  if (pieces > 0)
    shape_.cuts.push_back(
        {std::move(stock), base::toLength({length}), base::toLength({width}), pieces, std::move(use)});
}

void ShapeBuilder::fasten(std::string what, std::int64_t count) {
  if (count <= 0) return;
  for (Fastener& known : shape_.fasteners)
    if (known.what == what) {
      known.count += count;
      return;
    }
  shape_.fasteners.push_back({std::move(what), count});
}

void ShapeBuilder::keep(std::string what, std::int64_t pieces, double length, double width, double depth,
                        std::vector<std::string> stocks) {
  double sides[] = {length, width, depth * static_cast<double>(pieces)};
  std::sort(std::begin(sides), std::end(sides), std::greater<>());
  shape_.stored.push_back({std::move(what), pieces, base::toLength({sides[0]}), base::toLength({sides[1]}),
                           base::toLength({sides[2]})});
  kept_.insert(kept_.end(), stocks.begin(), stocks.end());
}

void ShapeBuilder::keepArc(const std::string& what, std::int64_t arcs, double radius, double angle,
                           std::int64_t least, const std::string& stock) {
  const Stock* sold = findStock(stock);
  const double whole = base::metres(sold->length).si;
  const std::int64_t parts =
      std::max(least, static_cast<std::int64_t>(std::ceil(radius * angle / whole - 1e-9)));
  const double half = angle / static_cast<double>(parts) / 2;
  // A piece of more than a half circle is as wide as the circle.
  const double chord = 2 * radius * (half > kPi / 2 ? 1.0 : std::sin(half));
  keep(what, arcs * parts, chord + sold->across, radius * (1 - std::cos(half)) + sold->across, sold->across,
       {stock});
}

void ShapeBuilder::backFace(double depth) {
  const std::int64_t front = count();
  const std::size_t parts = shape_.parts.size(), rows = shape_.rows.size();
  const std::vector<double> hops = shape_.hop;
  for (std::size_t r = rows; r-- > 0;) {
    const Row row = shape_.rows[r];
    startRow("back, " + row.name + ", turned round");
    for (std::int64_t k = row.last; k >= row.first; --k) {
      Vec3 at = shape_.pixels[static_cast<std::size_t>(k - 1)];
      at.y += depth;
      addByWire(at, k == front ? depth : hops[static_cast<std::size_t>(k - 1)]);
    }
    endRow(r == 0 ? "back, where the front begins" : "back, " + shape_.joints[r - 1].landmark);
  }
  for (std::size_t p = 0; p < parts; ++p) {
    std::vector<yard::Range>& ranges = shape_.parts[p].ranges;
    for (std::size_t i = ranges.size(); i-- > 0;) {
      const yard::Range mirrored{2 * front + 1 - ranges[i].last, 2 * front + 1 - ranges[i].first};
      if (ranges.back().last + 1 == mirrored.first)
        ranges.back().last = mirrored.last;
      else
        ranges.push_back(mirrored);
    }
  }
  part("front", 1, front);
  part("back", front + 1, 2 * front);
}

void ShapeBuilder::lengthFact(std::string name, double metres) {
  fact(std::move(name), base::toLength({metres}));
}

void ShapeBuilder::warn(std::string key, std::map<std::string, base::Fact> facts) {
  shape_.warnings.push_back({std::move(key), std::move(facts)});
}

namespace {

/// One line a name, in the order of first use; sheet and mesh are counted, not measured.
std::vector<MaterialLine> summed(const std::vector<Cut>& cuts) {
  std::vector<MaterialLine> lines;
  for (const Cut& cut : cuts) {
    const auto same =
        std::find_if(lines.begin(), lines.end(), [&](const MaterialLine& l) { return l.what == cut.stock; });
    MaterialLine& line = same == lines.end() ? lines.emplace_back(MaterialLine{cut.stock, {0}, 0}) : *same;
    line.pieces += cut.pieces;
    if (!cut.width) line.length += cut.length * cut.pieces;
  }
  return lines;
}

double meanHeight(const std::vector<Vec3>& pixels) {
  double sum = 0;
  for (const Vec3& p : pixels) sum += p.z;
  return sum / static_cast<double>(pixels.size());
}

}  // namespace

Shape ShapeBuilder::finish(std::string inLandmark, std::string outLandmark) {
  double left = shape_.pixels.front().x, right = left, top = shape_.pixels.front().z;
  const auto widen = [&](const Vec3& p) {
    left = std::min(left, p.x);
    right = std::max(right, p.x);
    top = std::max(top, p.z);
  };
  for (const Vec3& p : shape_.pixels) widen(p);
  for (const auto& line : shape_.frame)
    for (const Vec3& p : line) widen(p);
  shape_.height = base::toLength({top});
  shape_.width = base::toLength({right - left});
  shape_.windHeight = meanHeight(shape_.pixels);
  shape_.materials = summed(shape_.cuts);
  shape_.weight = weightOf(shape_.cuts);
  for (Stored& rest : storedByStock(shape_.cuts, kept_)) shape_.stored.push_back(std::move(rest));
  shape_.in = {shape_.pixels.front(), std::move(inLandmark)};
  shape_.out = {shape_.pixels.back(), std::move(outLandmark)};
  return std::move(shape_);
}

}  // namespace yw::shapes
