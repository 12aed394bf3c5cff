#include "core/papers/hatch.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace yw::papers {

std::vector<std::pair<Mm, Mm>> hatchStrokes(const std::vector<Mm>& outline, double spacing, double degrees) {
  std::vector<std::pair<Mm, Mm>> strokes;
  if (outline.size() < 3 || spacing <= 0.0) return strokes;
  const double turn = degrees * std::numbers::pi / 180.0, c = std::cos(turn), s = std::sin(turn);
  // In the turned frame (u along the strokes, v across them) each stroke is a level line of v. Paper's y is
  // down.
  std::vector<Mm> turned;
  turned.reserve(outline.size());
  for (const Mm p : outline) turned.push_back({p.x * c - p.y * s, p.x * s + p.y * c});
  const auto [low, high] =
      std::minmax_element(turned.begin(), turned.end(), [](Mm a, Mm b) { return a.y < b.y; });
  const auto first = static_cast<long>(std::ceil(low->y / spacing));
  const auto last = static_cast<long>(std::floor(high->y / spacing));
  std::vector<double> hits;
  for (long k = first; k <= last; ++k) {
    const double v = static_cast<double>(k) * spacing;
    hits.clear();
    for (std::size_t i = 0; i < turned.size(); ++i) {
      const Mm a = turned[i], b = turned[(i + 1) % turned.size()];
      if ((a.y <= v) == (b.y <= v)) continue;
      hits.push_back(a.x + (v - a.y) / (b.y - a.y) * (b.x - a.x));
    }
    std::sort(hits.begin(), hits.end());
    for (std::size_t i = 0; i + 1 < hits.size(); i += 2)
      strokes.push_back(
          {{hits[i] * c + v * s, -hits[i] * s + v * c}, {hits[i + 1] * c + v * s, -hits[i + 1] * s + v * c}});
  }
  return strokes;
}

HatchStyle hatchStyle(Role role) {
  if (role == Role::KeepOut) return {2.2, 45.0, 0.18};
  if (role == Role::Ground) return {5.0, 135.0, 0.13};
  return {3.0, 45.0, 0.13};
}

const std::vector<double>& dashPattern(Dash dash) {
  static const std::vector<double> solid, longDash{6.0, 2.0}, longDot{9.0, 2.0, 0.6, 2.0}, dot{0.5, 1.3},
      shortDash{2.2, 1.2};
  switch (dash) {
    case Dash::Solid:
      return solid;
    case Dash::Long:
      return longDash;
    case Dash::LongDot:
      return longDot;
    case Dash::Dot:
      return dot;
    case Dash::Short:
      return shortDash;
  }
  return solid;
}

std::vector<Mm> arrowHead(const std::vector<Mm>& line, double width) {
  if (line.size() < 2) return {};
  const Mm tip = line.back();
  for (std::size_t i = line.size() - 1; i-- > 0;) {
    const double dx = tip.x - line[i].x, dy = tip.y - line[i].y, length = std::hypot(dx, dy);
    if (length < 1e-6) continue;
    const double along = std::max(2.4, 4.0 * width), across = along * 0.36;
    const double ux = dx / length, uy = dy / length;
    const Mm foot{tip.x - ux * along, tip.y - uy * along};
    return {tip, {foot.x - uy * across, foot.y + ux * across}, {foot.x + uy * across, foot.y - ux * across}};
  }
  return {};
}

}  // namespace yw::papers
