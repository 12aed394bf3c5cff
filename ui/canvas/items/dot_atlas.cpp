#include "ui/canvas/items/dot_atlas.h"

#include <QPainter>
#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

namespace yw::ui {

void paintDot(QPainter& painter, const Look& look, std::uint8_t code, QPointF center, double radius) {
  const QColor ink = look.color(papers::Role::Ink);
  const double rim = std::clamp(radius * 0.22, 0.6, 1.2);
  if (code == pixel_code::kUnwired) {
    painter.setPen(QPen(look.color(papers::Role::SecondInk), rim));
    painter.setBrush(look.color(papers::Role::Paper));
    painter.drawEllipse(center, radius - rim / 2, radius - rim / 2);
    return;
  }
  if (code == pixel_code::kDark) {
    const double r = radius - rim / 2;
    painter.setPen(QPen(ink, rim * 1.3));
    painter.setBrush(look.color(papers::Role::Paper));
    painter.drawEllipse(center, r, r);
    const double d = r * 0.7;
    painter.drawLine(center + QPointF(-d, -d), center + QPointF(d, d));
    painter.drawLine(center + QPointF(-d, d), center + QPointF(d, -d));
    return;
  }
  QColor edge = ink;
  edge.setAlpha(150);
  painter.setPen(QPen(edge, rim));
  painter.setBrush(look.pixelColor(code));
  painter.drawEllipse(center, radius - rim / 2, radius - rim / 2);
}

const DotAtlas& DotAtlas::of(const Look& look, double diameter) {
  using Key = std::tuple<int, int, int>;
  static std::map<Key, DotAtlas> kept;
  const int tenths = static_cast<int>(std::lround(diameter * 10));
  const Key key{static_cast<int>(look.theme->look), tenths,
                static_cast<int>(std::lround(look.deviceRatio * 100))};
  if (const auto it = kept.find(key); it != kept.end()) return it->second;
  if (kept.size() > 60) kept.clear();
  DotAtlas atlas;
  atlas.cell = static_cast<int>(std::ceil(diameter * look.deviceRatio)) + 2;
  atlas.dots = QPixmap(atlas.cell * pixel_code::kCount, atlas.cell);
  atlas.dots.fill(Qt::transparent);
  QPainter painter(&atlas.dots);
  painter.setRenderHint(QPainter::Antialiasing);
  for (std::uint8_t code = 0; code < pixel_code::kCount; ++code)
    paintDot(painter, look, code, QPointF((code + 0.5) * atlas.cell, 0.5 * atlas.cell),
             diameter * look.deviceRatio / 2);
  return kept.emplace(key, std::move(atlas)).first->second;
}

}  // namespace yw::ui
