#include "ui/canvas/look.h"

#include <algorithm>
#include <cmath>

#include "ui/paint/fonts.h"

namespace yw::ui {

using papers::Dash;
using papers::Role;

QColor Look::pixelColor(std::uint8_t code) const {
  if (code < pixel_code::kMagnitudes) return theme->magnitude((code + 0.5) / pixel_code::kMagnitudes);
  if (code < pixel_code::kUnwired)
    return color(static_cast<Role>(static_cast<int>(Role::Kind1) + (code - pixel_code::kFirstKind)));
  return code == pixel_code::kDark ? color(Role::Ink) : color(Role::SecondInk);
}

QPen Look::pen(Role role, double paperMm, Dash dash) const { return pen(color(role), paperMm, dash); }

QPen Look::pen(const QColor& ink, double paperMm, Dash dash) const {
  QPen pen(ink, std::max(1.0, paperMm * kPixelsPerPaperMm) * deviceRatio);
  pen.setCosmetic(true);
  pen.setJoinStyle(Qt::RoundJoin);
  pen.setCapStyle(dash == Dash::Solid ? Qt::RoundCap : Qt::FlatCap);
  switch (dash) {
    case Dash::Solid:
      break;
    case Dash::Long:
      pen.setDashPattern({9, 4});
      break;
    case Dash::LongDot:
      pen.setDashPattern({14, 4, 2, 4});
      break;
    case Dash::Dot:
      pen.setDashPattern({1.5, 3});
      break;
    case Dash::Short:
      pen.setDashPattern({4, 3});
      break;
  }
  return pen;
}

QFont typeFace(TypeSize size, bool bold) {
  return textFont(size == TypeSize::Id ? 14 : size == TypeSize::Text ? 12 : 10, bold);
}

QPointF toScene(base::Vec2 plan) { return {plan.x * 1e3, -plan.y * 1e3}; }
QPointF toScene(base::Point plan) { return toScene(base::vec(plan)); }
base::Vec2 planOf(QPointF scene) { return {scene.x() * 1e-3, -scene.y() * 1e-3}; }

base::Point pointOf(QPointF scene) {
  const auto rounded = [](double mm) { return base::Length{std::llround(mm * 1e3) * 1'000}; };
  return {rounded(scene.x()), rounded(-scene.y())};
}

std::vector<QLineF> hatch(const QPolygonF& outline, double turn, double gap) {
  std::vector<QLineF> lines;
  if (outline.size() < 3 || gap <= 0) return lines;
  const double radians = -turn * M_PI / 180.0;  // scene y is down
  const QPointF along(std::cos(radians), std::sin(radians)), across(-along.y(), along.x());
  double low = 1e300, high = -1e300;
  for (const QPointF& p : outline) {
    const double d = QPointF::dotProduct(p, across);
    low = std::min(low, d);
    high = std::max(high, d);
  }
  std::vector<double> cuts;
  for (double d = std::ceil(low / gap) * gap; d <= high && lines.size() < 4000; d += gap) {
    cuts.clear();
    for (int i = 0; i < outline.size(); ++i) {
      const QPointF a = outline[i], b = outline[(i + 1) % outline.size()];
      const double da = QPointF::dotProduct(a, across) - d, db = QPointF::dotProduct(b, across) - d;
      if ((da < 0) == (db < 0)) continue;
      cuts.push_back(QPointF::dotProduct(a + (b - a) * (da / (da - db)), along));
    }
    std::sort(cuts.begin(), cuts.end());
    for (std::size_t i = 0; i + 1 < cuts.size(); i += 2)
      lines.emplace_back(along * cuts[i] + across * d, along * cuts[i + 1] + across * d);
  }
  return lines;
}

double distanceTo(const QPolygonF& line, bool closed, QPointF point) {
  double best = 1e300;
  const int count = static_cast<int>(line.size());
  if (count == 1) return std::hypot(point.x() - line[0].x(), point.y() - line[0].y());
  for (int i = 0; i < (closed ? count : count - 1); ++i) {
    const QPointF a = line[i], ab = line[(i + 1) % count] - a, ap = point - a;
    const double length2 = QPointF::dotProduct(ab, ab);
    const double t = length2 > 0 ? std::clamp(QPointF::dotProduct(ap, ab) / length2, 0.0, 1.0) : 0.0;
    const QPointF off = ap - ab * t;
    best = std::min(best, std::hypot(off.x(), off.y()));
  }
  return best;
}

QString said(const char* key, std::map<std::string, base::Fact> facts, base::UnitSystem units) {
  return QString::fromStdString(base::text(base::Message{key, std::move(facts)}, units));
}

QString wayWords(base::Point way, base::UnitSystem units) {
  const auto size = [](base::Length v) { return base::Length{v.count < 0 ? -v.count : v.count}; };
  const bool left = way.x.count < 0, down = way.y.count < 0;
  const char* key = left ? (down ? "canvas_way_left_down" : "canvas_way_left_up")
                         : (down ? "canvas_way_right_down" : "canvas_way_right_up");
  return said(key, {{"x", size(way.x)}, {"y", size(way.y)}}, units);
}

}  // namespace yw::ui
