#include "ui/canvas/items/prop_drawing.h"

#include <algorithm>
#include <cmath>

namespace yw::ui {

namespace {

using base::Vec2;
using base::Vec3;

double areaOf(const QPolygonF& closed) {
  double twice = 0.0;
  for (int i = 0; i < closed.size(); ++i) {
    const QPointF a = closed[i], b = closed[(i + 1) % closed.size()];
    twice += a.x() * b.y() - a.y() * b.x();
  }
  return std::abs(twice) / 2.0;
}

/// Median of the distances between neighbours that are apart at all; at least 5 mm.
double pitchOf(const std::vector<QPointF>& pixels) {
  std::vector<double> steps;
  for (std::size_t i = 1; i < pixels.size(); ++i) {
    const QPointF d = pixels[i] - pixels[i - 1];
    const double step = std::hypot(d.x(), d.y());
    if (step > 0.5) steps.push_back(step);
  }
  if (steps.empty()) return 50.0;
  std::nth_element(steps.begin(), steps.begin() + steps.size() / 2, steps.end());
  return std::max(5.0, steps[steps.size() / 2]);
}

template <class Flatten>
std::shared_ptr<PropDrawing> flattened(const shapes::Shape& shape, Flatten flat) {
  auto drawing = std::make_shared<PropDrawing>();
  drawing->pixels.reserve(shape.pixels.size());
  for (const Vec3& p : shape.pixels) drawing->pixels.push_back(flat(p));
  for (const auto& line : shape.frame) {
    QPolygonF seen;
    for (const Vec3& p : line) seen << flat(p);
    if (seen.size() > 1) drawing->frame.push_back(seen);
  }
  drawing->in = flat(shape.in.at);
  drawing->out = flat(shape.out.at);
  drawing->pitch = pitchOf(drawing->pixels);
  return drawing;
}

void measure(PropDrawing& drawing) {
  constexpr double kLeastBody = 100.0;  // mm²
  if (areaOf(drawing.body) < kLeastBody) drawing.body.clear();
  QPolygonF all(QList<QPointF>(drawing.pixels.begin(), drawing.pixels.end()));
  all << drawing.body;
  for (const QPolygonF& line : drawing.frame) all << line;
  drawing.bounds = all.boundingRect();
}

}  // namespace

PropDrawingPtr planDrawing(const shapes::Shape& shape) {
  const auto drawing = flattened(shape, [](Vec3 p) { return QPointF(p.x * 1e3, -p.y * 1e3); });
  for (const Vec2& p : shape.footprint) drawing->body << QPointF(p.x * 1e3, -p.y * 1e3);
  measure(*drawing);
  return drawing;
}

PropDrawingPtr frontDrawing(const shapes::Shape& shape) {
  const auto drawing = flattened(shape, [](Vec3 p) { return QPointF(p.x * 1e3, -p.z * 1e3); });
  measure(*drawing);
  return drawing;
}

}  // namespace yw::ui
