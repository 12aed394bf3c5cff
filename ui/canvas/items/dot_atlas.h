#pragma once
#include <QPixmap>
#include <QRectF>

#include "ui/canvas/look.h"

namespace yw::ui {

/// Ready-drawn dots of every pixel color at one size, for QPainter::drawPixmapFragments.
struct DotAtlas {
  QPixmap dots;
  int cell = 0;  ///< device pixels
  QRectF source(std::uint8_t code) const { return QRectF(code * cell, 0, cell, cell); }

  /// The atlas for dots of that logical diameter; kept for the next frame.
  static const DotAtlas& of(const Look& look, double diameter);
};

/// Paints one dot the way the atlas and the close view both do: unlit and unwired pixels differ by form, not
/// color.
void paintDot(QPainter& painter, const Look& look, std::uint8_t code, QPointF center, double radius);

}  // namespace yw::ui
