#pragma once
#include <QGraphicsItem>

#include "core/base/id.h"
#include "ui/canvas/look.h"

namespace yw::ui {

/// Something of the yard on the scene. Selecting, hitting and dragging are ours: no stock item flags are set,
/// since a stock item moves at the first pixel of jitter and ignores the rubber band's direction.
class CanvasItem : public QGraphicsItem {
 public:
  enum { Type = UserType + 1 };
  CanvasItem(const Look& look, base::Id id, Layer layer) : look_(look), id_(id), layer_(layer) {}

  int type() const override { return Type; }
  base::Id id() const { return id_; }
  Layer layer() const { return layer_; }
  /// Never moves and lets the click through.
  bool heldStill() const { return held_ || look_.holds(layer_); }
  void setHeldStill(bool held) { held_ = held; }

  /// True if what is drawn lies within `reach` mm of a place of the scene.
  virtual bool hit(QPointF scene, double reach) const = 0;
  /// What is drawn, without margins for pens, in the scene.
  virtual QRectF extent() const = 0;
  /// True if any of what is drawn lies in the rectangle.
  virtual bool touches(const QRectF& rect) const = 0;
  /// Smaller comes first where several are hit: small things lie over big ones.
  virtual double weight() const { return extent().width() + extent().height(); }

 protected:
  const Look& look() const { return look_; }
  bool selected() const;
  /// Logical pixels of screen per mm of scene.
  static double scaleOf(const QPainter& painter);

 private:
  const Look& look_;
  base::Id id_;
  Layer layer_;
  bool held_ = false;
};

}  // namespace yw::ui
