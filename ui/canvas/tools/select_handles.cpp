// Handles of what is selected, and what stands beside the pointer while it is dragged.
#include <QPainter>
#include <algorithm>
#include <cmath>

#include "core/base/number_text.h"
#include "ui/canvas/canvas_view.h"
#include "ui/canvas/tools/outcome.h"
#include "ui/canvas/tools/select_tool.h"

namespace yw::ui {

using base::Id;
using base::Point;
using papers::Role;

namespace {
bool isNear(QPoint a, QPoint b, double reach) { return std::hypot(a.x() - b.x(), a.y() - b.y()) <= reach; }
}  // namespace

/// The handle of one thing that can be turned: out in front of it, so that it shows which way the front
/// faces.
std::optional<QPoint> SelectTool::turnHandle() const {
  const Id id = document().selection().single();
  if (!id || !view().canTurnHere(id)) return std::nullopt;
  const auto place = view().placeHere(id);
  const CanvasItem* item = view().canvas().item(id);
  if (!place || !item) return std::nullopt;
  double heading = 0.0;
  if (const auto* prop = yard::find<yard::Prop>(document().shownYard(), id))
    heading = base::radians(prop->heading);
  if (const auto* eye = yard::find<yard::AudiencePoint>(document().shownYard(), id))
    heading = base::radians(eye->facing);
  const QPointF front(std::sin(heading), std::cos(heading));
  double out = 0.0;  // how far the thing itself reaches to the front
  const QRectF extent = item->extent();
  for (const QPointF corner :
       {extent.topLeft(), extent.topRight(), extent.bottomLeft(), extent.bottomRight()})
    out = std::max(out, QPointF::dotProduct(corner - *place, front));
  out = std::min(out, std::max(extent.width(), extent.height()) * 0.75);
  return view().toView(*place + front * (out + 24.0 / view().scaleNow())).toPoint();
}

/// Corners of one selected ground feature, in the viewport.
std::vector<QPoint> SelectTool::corners() const {
  std::vector<QPoint> places;
  const auto* feature =
      yard::find<yard::GroundFeature>(document().shownYard(), document().selection().single());
  if (!feature || !view().canMoveHere(document().selection().single())) return places;
  for (const Point& p : feature->outline) places.push_back(view().toView(toScene(p)).toPoint());
  return places;
}

/// Middles of its long enough edges, by which a corner is put in; -1, -1 for the short ones. A house keeps
/// its corners, since its walls and what hangs on them go by them.
std::vector<QPoint> SelectTool::middles() const {
  std::vector<QPoint> places;
  const auto* feature =
      yard::find<yard::GroundFeature>(document().shownYard(), document().selection().single());
  if (!feature || feature->kind == yard::FeatureKind::House) return places;
  const auto ends = corners();
  const bool closed = !yard::isLine(feature->kind);
  for (std::size_t i = 0; i + (closed ? 0 : 1) < ends.size(); ++i) {
    const QPoint a = ends[i], b = ends[(i + 1) % ends.size()];
    constexpr double kRoom = 40.0;
    places.push_back(isNear(a, b, kRoom) ? QPoint(-1000, -1000) : (a + b) / 2);
  }
  return places;
}

int SelectTool::middleAt(QPoint place) const {
  const auto all = middles();
  for (std::size_t i = 0; i < all.size(); ++i)
    if (isNear(all[i], place, kHandle - 1)) return static_cast<int>(i);
  return -1;
}

int SelectTool::cornerAt(QPoint place) const {
  const auto all = corners();
  for (std::size_t i = 0; i < all.size(); ++i)
    if (isNear(all[i], place, kHandle)) return static_cast<int>(i);
  return -1;
}

QRectF SelectTool::band() const { return QRectF(pressed_.scene, last_.scene).normalized(); }

QStringList SelectTool::note() const {
  QStringList lines;
  if (gesture_ == Gesture::Moving) {
    const Point by = pointOf(snapped_.at) - pointOf(anchor_);
    lines << wayWords(by, view().units());
  }
  if (gesture_ == Gesture::Jumper && change_.empty())
    lines << (refusal_.isEmpty() ? said("canvas_jumper_hint") : refusal_);
  if (gesture_ == Gesture::Jumper && !change_.empty()) lines << QString::fromStdString(change_.name);
  if ((gesture_ == Gesture::Moving || gesture_ == Gesture::Corner) && snapped_.caught) lines << snapped_.name;
  if (gesture_ == Gesture::Turning)
    if (const auto* prop = yard::find<yard::Prop>(document().shownYard(), document().selection().single()))
      lines << said("canvas_faces", {{"angle", prop->heading}});
  return lines + outcome_;
}

QRect SelectTool::bounds() const {
  if (gesture_ == Gesture::Band) return QRect(pressed_.view, last_.view).normalized().adjusted(-3, -3, 3, 3);
  QRectF all;
  const auto add = [&](QPointF at, double around) {
    all = all.united(QRectF(at - QPointF(around, around), QSizeF(2 * around, 2 * around)));
  };
  if (const auto handle = turnHandle(); handle && gesture_ != Gesture::Moving) {
    add(QPointF(*handle), kHandle + 2);
    add(view().toView(*view().placeHere(document().selection().single())), 2);
  }
  for (const QPoint corner : corners()) add(QPointF(corner), 7);
  if (const QStringList lines = note(); !lines.isEmpty())
    all = all.united(noteRect(view(), QPointF(last_.view), lines));
  if (gesture_ == Gesture::Moving || gesture_ == Gesture::Corner) {
    add(view().toView(snapped_.at), 7);
    for (const QPointF guide : snapped_.guides) add(view().toView(guide), 2);
  }
  if (gesture_ == Gesture::Jumper && jumperLine_.size() > 1) {
    add(view().toView(jumperLine_.front()), 4);
    add(view().toView(jumperLine_.back()), 4);
    add(QPointF(last_.view), 8);
  }
  return all.toAlignedRect().adjusted(-2, -2, 2, 2).intersected(view().viewport()->rect());
}

void SelectTool::paint(QPainter& painter) {
  const Look& look = view().look();
  const QColor accent = look.color(Role::Accent);
  if (gesture_ == Gesture::Band) {
    const bool rightward = last_.view.x() >= pressed_.view.x();
    const BandRule rule = view().bandRule();
    const bool touched = rule == BandRule::Touched || (rule == BandRule::ByDirection && !rightward);
    QColor fill = accent;
    fill.setAlphaF(0.08);
    QPen pen(accent, 1.2);
    if (touched) pen.setDashPattern({4, 3});
    painter.setPen(pen);
    painter.setBrush(fill);
    painter.drawRect(QRect(pressed_.view, last_.view).normalized());
    return;
  }
  painter.setPen(QPen(accent, 1.4));
  painter.setBrush(look.color(Role::Paper));
  if (const auto handle = turnHandle(); handle && gesture_ != Gesture::Moving) {
    const QPointF place = view().toView(*view().placeHere(document().selection().single()));
    painter.drawLine(place, QPointF(*handle));
    painter.drawEllipse(QPointF(*handle), kHandle - 1, kHandle - 1);
  }
  for (const QPoint middle : middles()) painter.drawEllipse(QPointF(middle), 3, 3);
  for (const QPoint corner : corners()) painter.drawRect(QRectF(corner.x() - 4, corner.y() - 4, 8, 8));
  if (gesture_ == Gesture::Moving || gesture_ == Gesture::Corner) {
    painter.setPen(QPen(accent, 1, Qt::DashLine));
    const QPointF at = view().toView(snapped_.at);
    for (const QPointF guide : snapped_.guides) painter.drawLine(at, view().toView(guide));
    if (snapped_.caught) {
      painter.setPen(QPen(accent, 1.4));
      painter.setBrush(Qt::NoBrush);
      painter.drawEllipse(at, 5, 5);
    }
  }
  if (gesture_ == Gesture::Jumper && jumperLine_.size() > 1) {
    painter.setPen(QPen(accent, 1.6, Qt::DashLine));
    painter.drawLine(view().toView(jumperLine_.front()), QPointF(last_.view));
    painter.drawLine(QPointF(last_.view), view().toView(jumperLine_.back()));
  }
  paintNote(painter, view(), QPointF(last_.view), note());
}

}  // namespace yw::ui
