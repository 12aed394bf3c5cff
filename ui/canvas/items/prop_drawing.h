#pragma once
#include <QPointF>
#include <QPolygonF>
#include <QRectF>
#include <memory>
#include <vector>

#include "core/shapes/shape.h"

namespace yw::ui {

/// A prop as one view sees it: its geometry flattened into the item's own millimetres, y down.
struct PropDrawing {
  std::vector<QPointF> pixels;   ///< in string order
  std::vector<QPolygonF> frame;  ///< lines of the structure
  QPolygonF body;  ///< closed outline on the ground; empty for things as thin as a line and face-on
  QPointF in, out;
  QRectF bounds;        ///< of all of it
  double pitch = 50.0;  ///< usual distance between neighbours as seen here, mm
};
using PropDrawingPtr = std::shared_ptr<const PropDrawing>;

/// Seen from above; own x to the right, own y up.
PropDrawingPtr planDrawing(const shapes::Shape& shape);
/// Seen face-on from the front; own x to the right, own z up.
PropDrawingPtr frontDrawing(const shapes::Shape& shape);

}  // namespace yw::ui
