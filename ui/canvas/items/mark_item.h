#pragma once
#include "core/yard/records.h"
#include "ui/canvas/items/canvas_item.h"

namespace yw::ui {

/// Things with a place but no size of their own: boxes, outlets, other loads, audience points, spot heights.
/// Drawn at one size on screen whatever the zoom.
class MarkItem : public CanvasItem {
 public:
  MarkItem(const Look& look, base::Id id, yard::RecordKind kind);
  yard::RecordKind kind() const { return kind_; }
  void setPlace(QPointF scene) { setPos(scene); }
  void setText(const QString& text);  ///< written beside a spot height
  void setCount(int supplies);        ///< a box: bars for its supplies
  void setTurn(double degrees);       ///< an audience point: where it looks, anticlockwise from straight down

  bool hit(QPointF scene, double reach) const override;
  QRectF extent() const override { return QRectF(pos(), QSizeF(0.01, 0.01)); }
  bool touches(const QRectF& rect) const override { return rect.contains(pos()); }
  QRectF boundingRect() const override { return QRectF(-24, -24, 92, 48); }
  void paint(QPainter* painter, const QStyleOptionGraphicsItem* option, QWidget* widget) override;

 private:
  void paintBox(QPainter& painter) const;
  void paintAudience(QPainter& painter) const;
  yard::RecordKind kind_;
  QString text_;
  int count_ = 0;
  double turn_ = 0.0;
};

}  // namespace yw::ui
