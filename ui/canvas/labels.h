#pragma once
#include <QImage>
#include <QPainter>
#include <QPointF>
#include <QRectF>
#include <QString>
#include <vector>

namespace yw::ui {

/// A word that wants to stand beside something of the viewport (logical pixels).
struct LabelWish {
  QString text;
  QRectF of;          ///< what it names
  int rank = 0;       ///< smaller is placed first and may stand further away
  bool loud = false;  ///< selected: bold, always shown
  bool operator==(const LabelWish&) const = default;
};

struct PlacedLabel {
  QString text;
  QRectF rect;
  QPointF leaderFrom, leaderTo;  ///< equal: it stands close enough to need none
  bool loud = false;
  bool operator==(const PlacedLabel&) const = default;
};

/// Which parts of the viewport are taken, in coarse cells.
class Occupied {
 public:
  explicit Occupied(QSize viewport);
  /// Takes what `paint` draws; the painter works in viewport coordinates.
  template <class Paint>
  void take(Paint paint) {
    QPainter painter(&cells_);
    painter.scale(1.0 / kCell, 1.0 / kCell);
    paint(painter);
  }
  void take(const QRectF& rect);
  bool free(const QRectF& rect) const;  ///< false outside the viewport
  static constexpr double kCell = 6.0;

 private:
  QImage cells_;
};

/// Places labels so that none covers a prop or another label: beside the thing first, then further off with a
/// leader. Those that find no room are left out, loud ones excepted. Same wishes, same answer.
std::vector<PlacedLabel> placeLabels(std::vector<LabelWish> wishes, Occupied& occupied);

}  // namespace yw::ui
