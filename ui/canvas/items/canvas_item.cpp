#include "ui/canvas/items/canvas_item.h"

#include <QPainter>
#include <cmath>

#include "ui/document/document.h"

namespace yw::ui {

bool CanvasItem::selected() const { return look_.selection && look_.selection->ids().contains(id_); }

double CanvasItem::scaleOf(const QPainter& painter) {
  const QTransform& t = painter.worldTransform();
  return std::hypot(t.m11(), t.m12());
}

}  // namespace yw::ui
