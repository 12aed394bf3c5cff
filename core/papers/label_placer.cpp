#include "core/papers/label_placer.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace yw::papers {
namespace {

constexpr double kCell = 0.5;
constexpr double kRadians = std::numbers::pi / 180.0;

Mm nearestOn(const Rect& box, Mm p) {
  return {std::clamp(p.x, box.x, box.right()), std::clamp(p.y, box.y, box.bottom())};
}

double apart(Mm a, Mm b) { return std::hypot(a.x - b.x, a.y - b.y); }

Mm nearestAnchor(const std::vector<Mm>& anchors, const Rect& target, const Rect& box) {
  Mm best = target.center();
  double least = anchors.empty() ? 0.0 : 1e300;
  for (const Mm p : anchors) {
    const double distance = apart(p, nearestOn(box, p));
    if (distance < least - 1e-9) {
      least = distance;
      best = p;
    }
  }
  return best;
}

/// The label's box at a gap from the target in one of sixteen directions; 0 is right, then anticlockwise.
Rect boxAt(const Rect& target, double gap, int direction, double w, double h) {
  const double angle = direction * 22.5 * kRadians;
  const double dx = std::cos(angle), dy = -std::sin(angle);
  const double reachX = target.w / 2 + w / 2 + gap, reachY = target.h / 2 + h / 2 + gap;
  // Slide on the rectangle of centers round the target.
  const double scale = std::min(std::abs(dx) > 1e-9 ? reachX / std::abs(dx) : 1e300,
                                std::abs(dy) > 1e-9 ? reachY / std::abs(dy) : 1e300);
  const Mm c{target.center().x + dx * scale, target.center().y + dy * scale};
  return {c.x - w / 2, c.y - h / 2, w, h};
}

}  // namespace

Occupancy::Occupancy(const Rect& area)
    : area_(area),
      columns_(std::max(1L, std::lround(area.w / kCell))),
      rows_(std::max(1L, std::lround(area.h / kCell))),
      cells_(static_cast<std::size_t>(columns_ * rows_), 0) {}

void Occupancy::mark(long column, long row, Weight weight) {
  if (column < 0 || row < 0 || column >= columns_ || row >= rows_) return;
  std::uint8_t& cell = cells_[static_cast<std::size_t>(row * columns_ + column)];
  cell = std::max(cell, static_cast<std::uint8_t>(weight));
}

void Occupancy::markRect(const Rect& rect, Weight weight) {
  const auto square = [](double mm) {
    return static_cast<long>(std::floor(std::clamp(mm, -1e6, 1e6) / kCell));
  };
  const long left = std::max(0L, square(rect.x - area_.x)),
             right = std::min(columns_ - 1, square(rect.right() - area_.x));
  const long top = std::max(0L, square(rect.y - area_.y)),
             bottom = std::min(rows_ - 1, square(rect.bottom() - area_.y));
  for (long row = top; row <= bottom; ++row)
    for (long column = left; column <= right; ++column) mark(column, row, weight);
}

template <class Visit>
void Occupancy::visitTurned(Mm center, double w, double h, double turn, Visit visit) const {
  const double c = std::cos(turn * kRadians), s = std::sin(turn * kRadians);
  const long across = std::max(1L, static_cast<long>(std::ceil(w / kCell)));
  const long down = std::max(1L, static_cast<long>(std::ceil(h / kCell)));
  for (long i = 0; i < across; ++i)
    for (long k = 0; k < down; ++k) {
      const double u = (static_cast<double>(i) + 0.5) * w / static_cast<double>(across) - w / 2;
      const double v = (static_cast<double>(k) + 0.5) * h / static_cast<double>(down) - h / 2;
      const double x = center.x + u * c + v * s, y = center.y - u * s + v * c;
      visit(static_cast<long>(std::floor((x - area_.x) / kCell)),
            static_cast<long>(std::floor((y - area_.y) / kCell)));
    }
}

void Occupancy::markTurned(Mm center, double w, double h, double turn, Weight weight) {
  visitTurned(center, w, h, turn, [&](long column, long row) { mark(column, row, weight); });
}

void Occupancy::markLine(Mm a, Mm b, double halfWidth, Weight weight) {
  const double length = apart(a, b);
  if (length > 2000.0) return;  // far off the page
  const long steps = std::max(1L, static_cast<long>(std::ceil(length / kCell)));
  for (long i = 0; i <= steps; ++i) {
    const double t = static_cast<double>(i) / static_cast<double>(steps);
    const Mm p{a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t};
    markRect({p.x - halfWidth, p.y - halfWidth, 2 * halfWidth, 2 * halfWidth}, weight);
  }
}

Occupancy::Cost Occupancy::cost(Mm center, double w, double h, double turn) const {
  Cost cost;
  if (turn == 0.0) {  // the usual case, many times a page
    const auto square = [](double mm) {
      return static_cast<long>(std::floor(std::clamp(mm, -1e6, 1e6) / kCell));
    };
    const long left = square(center.x - w / 2 - area_.x), right = square(center.x + w / 2 - area_.x);
    const long top = square(center.y - h / 2 - area_.y), bottom = square(center.y + h / 2 - area_.y);
    cost.outside = left < 0 || top < 0 || right >= columns_ || bottom >= rows_;
    if (cost.outside) return cost;
    for (long row = top; row <= bottom; ++row) {
      const std::uint8_t* cell = &cells_[static_cast<std::size_t>(row * columns_ + left)];
      for (long column = left; column <= right; ++column, ++cell) {
        cost.hard += *cell == static_cast<std::uint8_t>(Weight::Hard) ? 1 : 0;
        cost.soft += *cell == static_cast<std::uint8_t>(Weight::Soft) ? 1 : 0;
      }
    }
    return cost;
  }
  visitTurned(center, w, h, turn, [&](long column, long row) {
    if (column < 0 || row < 0 || column >= columns_ || row >= rows_) {
      cost.outside = true;
      return;
    }
    const std::uint8_t cell = cells_[static_cast<std::size_t>(row * columns_ + column)];
    cost.hard += cell == static_cast<std::uint8_t>(Weight::Hard) ? 1 : 0;
    cost.soft += cell == static_cast<std::uint8_t>(Weight::Soft) ? 1 : 0;
  });
  return cost;
}

PlacedLabel placeBeside(Occupancy& taken, const Rect& target, const std::vector<Mm>& anchors, double w,
                        double h, double mostGap) {
  static constexpr double kGaps[] = {0.8, 2.5, 5.0, 8.0, 12.0, 17.0, 23.0, 30.0, 40.0};
  static constexpr int kDirections[] = {0, 8, 4, 12, 1, 15, 7, 9, 2, 14, 6, 10, 3, 5, 11, 13};
  PlacedLabel best;
  double least = 1e300;
  for (const double gap : kGaps) {
    if (gap > mostGap) break;
    for (std::size_t i = 0; i < std::size(kDirections); ++i) {
      const Rect box = boxAt(target, gap, kDirections[i], w, h);
      const Occupancy::Cost cost = taken.cost(box.center(), w, h, 0.0);
      if (cost.outside) continue;
      const double total = cost.hard * 40.0 + cost.soft * 0.25 + gap * 1.6 + static_cast<double>(i) * 0.15;
      if (total >= least) continue;
      least = total;
      best.box = box;
      best.clear = cost.hard == 0;
    }
    if (least < gap * 1.6 + 1.5) break;  // farther out is no better
  }
  if (least == 1e300) {
    const Rect& area = taken.area();
    best.box = {std::clamp(target.right() + 0.8, area.x, std::max(area.x, area.right() - w)),
                std::clamp(target.center().y - h / 2, area.y, std::max(area.y, area.bottom() - h)), w, h};
    best.clear = false;
  }
  taken.markRect(best.box, Occupancy::Weight::Hard);
  best.leaderTo = nearestAnchor(anchors, target, best.box);
  best.leaderFrom = nearestOn(best.box, best.leaderTo);
  if (apart(best.leaderFrom, best.leaderTo) < 2.2) {
    best.leaderFrom = best.leaderTo;
  } else {
    taken.markLine(best.leaderFrom, best.leaderTo, 0.3, Occupancy::Weight::Soft);
  }
  return best;
}

LineLabel placeAlong(Occupancy& taken, const std::vector<Mm>& path, double w, double h) {
  LineLabel label;
  double least = 1e300;
  Mm bestCenter;
  for (std::size_t i = 0; i + 1 < path.size(); ++i) {
    const double length = apart(path[i], path[i + 1]);
    if (length < w * 0.8) continue;
    double turn = std::atan2(path[i].y - path[i + 1].y, path[i + 1].x - path[i].x) / kRadians;
    if (turn > 90.0) turn -= 180.0;
    if (turn <= -90.0) turn += 180.0;
    const double c = std::cos(turn * kRadians), s = std::sin(turn * kRadians);
    for (const double side : {-1.0, 1.0})
      for (const double t : {0.5, 0.35, 0.65, 0.2, 0.8}) {
        if (length * std::min(t, 1 - t) < w * 0.4) continue;
        const Mm on{path[i].x + (path[i + 1].x - path[i].x) * t, path[i].y + (path[i + 1].y - path[i].y) * t};
        const double off = side * (h / 2 + 0.45);
        const Mm center{on.x + off * s, on.y + off * c};
        const Occupancy::Cost cost = taken.cost(center, w, h, turn);
        if (cost.outside || cost.hard > 0) continue;
        const double total =
            cost.soft * 0.4 + std::abs(t - 0.5) * 4.0 + (side > 0 ? 0.5 : 0.0) - std::min(length, 60.0) * 0.1;
        if (total >= least) continue;
        least = total;
        label = {true, {}, turn};
        bestCenter = center;
        const double base = h / 2 - h * 0.22;
        label.at = {center.x + base * s, center.y + base * c};
      }
  }
  if (label.placed) taken.markTurned(bestCenter, w, h, label.turn, Occupancy::Weight::Hard);
  return label;
}

}  // namespace yw::papers
