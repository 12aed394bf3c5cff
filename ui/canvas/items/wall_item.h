#pragma once
#include "core/yard/records.h"
#include "ui/canvas/items/canvas_item.h"

namespace yw::ui {

/// Height of a gable above its feet: as said, else by the wall's pitch.
base::Length gableHeight(const yard::Wall& wall, const yard::Opening& gable);
/// An opening's outline on the wall's face, in the scene; an eave has no height.
QPolygonF openingOutline(const yard::Wall& wall, const yard::Opening& opening);
base::Length lengthOf(const yard::Wall& wall);

/// A wall seen face-on from outside: its outline up to the eave, gables, eaves, windows, doors, the ground.
class WallItem : public CanvasItem {
 public:
  WallItem(const Look& look, base::Id id);
  void setWall(const yard::Wall& wall);
  void setChosen(int opening);  ///< which opening is selected; -1: none

  bool hit(QPointF scene, double reach) const override;
  QRectF extent() const override { return extent_; }
  bool touches(const QRectF&) const override { return false; }
  double weight() const override { return 1e9; }
  QRectF boundingRect() const override;
  void paint(QPainter* painter, const QStyleOptionGraphicsItem* option, QWidget* widget) override;

 private:
  void paintOpening(QPainter& painter, std::size_t index) const;
  yard::Wall wall_;
  QRectF extent_;
  int chosen_ = -1;
};

}  // namespace yw::ui
