#pragma once
#include <QPainter>
#include <QRect>
#include <QString>
#include <vector>

#include "core/findings/findings.h"
#include "ui/canvas/look.h"

namespace yw::ui {

/// The quiet things in the corners of a drawing.
struct Furniture {
  bool northArrow = true;
  double north = 0.0;  ///< degrees anticlockwise from straight up
  QString title;       ///< yard, or wall
  base::UnitSystem units = base::UnitSystem::FeetInches;
  /// Color key: words at the dark and the bright end of the magnitudes, or one entry a kind.
  QString low, high;
  struct Entry {
    std::uint8_t code;
    QString text;
  };
  std::vector<Entry> entries;
  std::size_t more = 0;  ///< kinds beyond those listed
};

/// Lower left: north arrow, scale bar, title. Lower right: color key. Gives the rectangles they take.
std::vector<QRect> furnitureRects(const Furniture& furniture, QSize viewport);
void paintFurniture(QPainter& painter, const Look& look, const Furniture& furniture, QSize viewport);

/// Length of the scale bar: a round figure between 60 and 160 logical pixels.
base::Length scaleBar(double pixelsPerMm, base::UnitSystem units);

/// Solid triangle, solid square, open square, dot: a severity by its shape.
void paintSign(QPainter& painter, const Look& look, findings::Severity severity, QPointF center,
               double size = 13.0);

}  // namespace yw::ui
