#include "ui/canvas/labels.h"

#include <QFontMetricsF>
#include <algorithm>
#include <cmath>

#include "ui/canvas/look.h"

namespace yw::ui {

Occupied::Occupied(QSize viewport)
    : cells_(static_cast<int>(std::ceil(viewport.width() / kCell)) + 1,
             static_cast<int>(std::ceil(viewport.height() / kCell)) + 1, QImage::Format_Grayscale8) {
  cells_.fill(0);
}

void Occupied::take(const QRectF& rect) {
  take([&](QPainter& painter) { painter.fillRect(rect, Qt::white); });
}

bool Occupied::free(const QRectF& rect) const {
  const int left = static_cast<int>(std::floor(rect.left() / kCell)),
            right = static_cast<int>(std::floor(rect.right() / kCell));
  const int top = static_cast<int>(std::floor(rect.top() / kCell)),
            bottom = static_cast<int>(std::floor(rect.bottom() / kCell));
  if (left < 0 || top < 0 || right >= cells_.width() || bottom >= cells_.height()) return false;
  for (int y = top; y <= bottom; ++y) {
    const uchar* row = cells_.constScanLine(y);
    for (int x = left; x <= right; ++x)
      if (row[x]) return false;
  }
  return true;
}

namespace {

/// Eight sides of the thing, nearest reading order first: right, left, above, below, then the corners.
constexpr double kSides[][2] = {{1, 0}, {-1, 0}, {0, -1}, {0, 1}, {1, -1}, {1, 1}, {-1, -1}, {-1, 1}};

QRectF beside(const QRectF& of, QSizeF size, const double (&side)[2], double away) {
  const QPointF center = of.center();
  const double x = center.x() + side[0] * (of.width() / 2 + size.width() / 2 + away);
  const double y = center.y() + side[1] * (of.height() / 2 + size.height() / 2 + away);
  return QRectF(QPointF(x - size.width() / 2, y - size.height() / 2), size);
}

QPointF nearestOn(const QRectF& rect, QPointF to) {
  return {std::clamp(to.x(), rect.left(), rect.right()), std::clamp(to.y(), rect.top(), rect.bottom())};
}

/// How far a name may stand from its thing: a box's is never left out for want of room nearby.
double roomOf(int rank, double furthest) {
  if (rank == 0) return 90.0;
  if (rank == 1) return furthest;
  return rank == 2 ? std::min(furthest, 26.0) : 4.0;
}

PlacedLabel placedAt(const LabelWish& wish, const QRectF& rect, bool leader) {
  PlacedLabel label{wish.text, rect, {}, {}, wish.loud};
  if (leader) {
    label.leaderTo = nearestOn(wish.of, rect.center());
    label.leaderFrom = nearestOn(rect, label.leaderTo);
  }
  return label;
}

}  // namespace

std::vector<PlacedLabel> placeLabels(std::vector<LabelWish> wishes, Occupied& occupied) {
  std::stable_sort(wishes.begin(), wishes.end(), [](const LabelWish& a, const LabelWish& b) {
    return a.loud != b.loud ? a.loud : a.rank < b.rank;
  });
  const QFontMetricsF plain(typeFace(TypeSize::Text)), bold(typeFace(TypeSize::Id, true));
  // The more there is to name, the nearer a name must stand to be read as belonging to its thing.
  const double furthest = wishes.size() <= 40    ? 90.0
                          : wishes.size() <= 90  ? 42.0
                          : wishes.size() <= 160 ? 26.0
                                                 : 14.0;
  std::vector<PlacedLabel> placed;
  for (const LabelWish& wish : wishes) {
    const QFontMetricsF& metrics = wish.loud ? bold : plain;
    const QSizeF size(metrics.horizontalAdvance(wish.text) + 6, metrics.height());
    const auto tryAt = [&](double away) {
      for (const auto& side : kSides) {
        const QRectF rect = beside(wish.of, size, side, away);
        if (!occupied.free(rect)) continue;
        occupied.take(rect);
        placed.push_back(placedAt(wish, rect, away > 8));
        return true;
      }
      return false;
    };
    bool done = false;
    for (const double away : {4.0, 14.0, 26.0, 42.0, 62.0, 90.0}) {
      if (!wish.loud && away > roomOf(wish.rank, furthest)) break;
      if ((done = tryAt(away))) break;
    }
    if (!done && wish.loud) placed.push_back(placedAt(wish, beside(wish.of, size, kSides[2], 4.0), false));
  }
  return placed;
}

}  // namespace yw::ui
