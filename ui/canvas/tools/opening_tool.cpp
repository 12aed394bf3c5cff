#include "ui/canvas/tools/opening_tool.h"

#include <QKeyEvent>
#include <QPainter>
#include <algorithm>
#include <cmath>

#include "core/base/number_text.h"
#include "ui/canvas/front_view.h"

namespace yw::ui {

using base::Length;
using base::Point;
using papers::Role;
using yard::Opening;
using yard::OpeningKind;

namespace {

constexpr int kDragStart = 4;

QString kindLabel(OpeningKind kind) {
  return QString::fromUtf8(yard::words(OpeningKind{})[static_cast<std::size_t>(kind)].label);
}

/// What a click gives. Common practice, no source: window 3 by 4 ft, door 3 ft by 6 ft 8 in, gable and eave
/// as wide as the wall.
Opening usual(OpeningKind kind, const yard::Wall& wall) {
  Opening opening;
  opening.kind = kind;
  opening.width = kind == OpeningKind::Window || kind == OpeningKind::Door ? base::feet(3) : lengthOf(wall);
  if (kind == OpeningKind::Window) opening.height = base::feet(4);
  if (kind == OpeningKind::Door) opening.height = base::inches(80);
  return opening;
}

bool moved(const ToolEvent& a, const ToolEvent& b) {
  return std::hypot(a.view.x() - b.view.x(), a.view.y() - b.view.y()) >= kDragStart;
}

}  // namespace

OpeningTool::OpeningTool(FrontView& view, OpeningKind kind) : PointTool(view), front_(view), kind_(kind) {
  connect(&entry(), &InlineEntry::entered, this, &OpeningTool::entered);
}

QString OpeningTool::name() const {
  return said("canvas_tool_draw", {{"what", kindLabel(kind_).toLower().toStdString()}});
}

QString OpeningTool::status() const {
  if (!front_.wallRecord()) return said("canvas_front_none");
  return said(flat() ? "canvas_status_opening_flat" : "canvas_status_opening");
}

void OpeningTool::move(const ToolEvent& event) {
  last_ = event;
  snapped_ = caught(event);
  if (corner_ && (event.buttons & Qt::LeftButton) && moved(event, pressed_)) dragged_ = true;
  repaint();
}

void OpeningTool::press(const ToolEvent& event) {
  if (!front_.wallRecord()) return;
  pressed_ = event;
  move(event);
  corner_ = snapped_.at;
  dragged_ = false;
}

void OpeningTool::release(const ToolEvent& event) {
  if (!corner_ || asking()) return;
  last_ = event;
  snapped_ = caught(event);
  if (dragged_) return finish(opening());
  Opening placed = usual(kind_, *front_.wallRecord());
  placed.at = pointOf(*corner_);
  if (kind_ == OpeningKind::Door) placed.at.y = {};
  if (flat()) placed.at = {{0}, front_.wallRecord()->eaveHeight};
  finish(placed);
}

Opening OpeningTool::opening() const {
  Opening made;
  made.kind = kind_;
  const Point a = pointOf(*corner_), b = pointOf(snapped_.at);
  made.at = {std::min(a.x, b.x), std::min(a.y, b.y)};
  made.width = {std::abs(b.x.count - a.x.count)};
  made.height = {std::abs(b.y.count - a.y.count)};
  if (flat()) {
    made.at.y = a.y;
    made.height = {};
  }
  return made;
}

bool OpeningTool::key(QKeyEvent& event) {
  if (!front_.wallRecord() || !beginsLength(event)) return false;
  if (!corner_) corner_ = snapped_.at;
  width_ = {};
  entry().ask(said("canvas_ask_width"), last_.view, units(), event.text());
  return true;
}

void OpeningTool::entered(Length typed) {
  if (!width_ && !flat()) {
    width_ = typed;
    entry().ask(said("canvas_ask_height"), last_.view, units());
    return;
  }
  entry().put();
  Opening made;
  made.kind = kind_;
  made.at = pointOf(corner_.value_or(snapped_.at));
  made.width = flat() ? typed : width_;
  if (!flat()) made.height = typed;
  if (kind_ == OpeningKind::Door) made.at.y = {};
  finish(made);
}

void OpeningTool::finish(Opening made) {
  corner_.reset();
  width_ = {};
  if (made.width.count <= 0 || (!flat() && made.height.count <= 0)) return repaint();
  const auto* wall = front_.wallRecord();
  const std::size_t n =
      1 + static_cast<std::size_t>(std::count_if(wall->openings.begin(), wall->openings.end(),
                                                 [&](const Opening& o) { return o.kind == kind_; }));
  made.name = kindLabel(kind_).toStdString() + (n > 1 ? " " + std::to_string(n) : "");
  const char* steps[] = {"canvas_opening_window", "canvas_opening_door", "canvas_opening_gable",
                         "canvas_opening_eave"};
  FrontView& front = front_;
  front.changeOpenings(steps[static_cast<int>(kind_)],
                       [&](std::vector<Opening>& openings) { openings.push_back(made); });
  front.selectOpening(static_cast<int>(front.wallRecord()->openings.size()) - 1);
  leave();
}

bool OpeningTool::stop() {
  const bool typing = PointTool::stop();
  const bool under = corner_.has_value();
  corner_.reset();
  width_ = {};
  repaint();
  return typing || under;
}

void OpeningTool::paint(QPainter& painter) {
  paintCatch(painter, snapped_);
  if (!corner_ || !dragged_ || !front_.wallRecord()) return;
  const Opening made = opening();
  QPolygonF outline;
  for (const QPointF p : openingOutline(*front_.wallRecord(), made)) outline << view().toView(p);
  painter.setPen(QPen(view().look().color(Role::Accent), 1.8));
  painter.setBrush(Qt::NoBrush);
  if (kind_ == OpeningKind::Eave)
    painter.drawPolyline(outline);
  else
    painter.drawPolygon(outline);
  const QString size = QString::fromStdString(base::lengthText(made.width, units()));
  const QString high = QString::fromStdString(base::lengthText(made.height, units()));
  paintNote(painter, view(), QPointF(last_.view), {flat() ? size : size + QStringLiteral(" × ") + high});
}

// ---- selecting

FrontSelectTool::FrontSelectTool(FrontView& view) : SelectTool(view), front_(view) {}

/// Upper right corner of the selected opening, by which it is sized.
bool FrontSelectTool::onHandle(QPoint at) const {
  const auto* wall = front_.wallRecord();
  if (!wall || front_.opening() < 0) return false;
  const QRectF box =
      openingOutline(*wall, wall->openings[static_cast<std::size_t>(front_.opening())]).boundingRect();
  const QPointF corner = front_.toView(box.topRight());
  return std::hypot(corner.x() - at.x(), corner.y() - at.y()) <= 8.0;
}

void FrontSelectTool::press(const ToolEvent& event) {
  pressed_ = last_ = event;
  dragging_ = false;
  sizing_ = onHandle(event.view);
  const auto ids = front_.idsAt(event.scene);
  const bool record = !ids.empty() && ids.front() != front_.wall();
  const int opening = front_.openingAt(event.scene);
  mine_ = sizing_ || (!record && opening >= 0 && !front_.findingAt(event.view));
  if (!mine_) {
    front_.selectOpening(-1);
    return SelectTool::press(event);
  }
  if (!sizing_) front_.selectOpening(opening);
}

edit::Change FrontSelectTool::change(const ToolEvent& event) const {
  Point by = pointOf(event.scene) - pointOf(pressed_.scene);
  const bool shift = event.modifiers & Qt::ShiftModifier;
  if (shift && !sizing_) (std::abs(by.x.count) >= std::abs(by.y.count) ? by.y : by.x) = {};  // along one axis
  const GridStep grid = gridStep(front_.scaleNow(), 7.0, front_.units());
  const auto onGrid = [&](Length v) {
    if (!front_.snaps() || (event.modifiers & Qt::AltModifier)) return v;
    const double step = grid.step * 1e6;  // nm
    return Length{std::llround(std::round(static_cast<double>(v.count) / step) * step)};
  };
  return front_.openingsChange(
      sizing_ ? "canvas_opening_size" : "canvas_opening_move", [&](std::vector<Opening>& openings) {
        Opening& opening = openings[static_cast<std::size_t>(front_.opening())];
        if (sizing_) {
          const double before = static_cast<double>(opening.width.count);
          opening.width = std::max(base::inches(1), onGrid(opening.width + by.x));
          if (shift && before > 0)  // its proportions stay
            opening.height = Length{std::llround(static_cast<double>(opening.height.count) *
                                                 static_cast<double>(opening.width.count) / before)};
          else if (opening.kind != OpeningKind::Eave && opening.kind != OpeningKind::Gable)
            opening.height = std::max(base::inches(1), onGrid(opening.height + by.y));
        } else {
          opening.at = {by.x.count ? onGrid(opening.at.x + by.x) : opening.at.x,
                        by.y.count ? onGrid(opening.at.y + by.y) : opening.at.y};
        }
      });
}

void FrontSelectTool::move(const ToolEvent& event) {
  last_ = event;
  if (!mine_) return SelectTool::move(event);
  if (!dragging_ && !moved(event, pressed_)) return;
  dragging_ = true;
  document().setTentative(change(event));
  repaint();
}

void FrontSelectTool::release(const ToolEvent& event) {
  if (!mine_) return SelectTool::release(event);
  mine_ = false;
  if (!dragging_) return;
  dragging_ = false;
  edit::Change made = change(event);
  document().clearTentative();
  document().commit(std::move(made));
  repaint();
}

void FrontSelectTool::doubleClick(const ToolEvent& event) {
  if (front_.opening() >= 0 && front_.openingAt(event.scene) == front_.opening()) {
    mine_ = false;
    Q_EMIT front_.editAsked();
    return;
  }
  SelectTool::doubleClick(event);
}

bool FrontSelectTool::stop() {
  if (!mine_) return SelectTool::stop();
  mine_ = false;
  if (!dragging_) return false;
  dragging_ = false;
  document().clearTentative();
  repaint();
  return true;
}

QRect FrontSelectTool::bounds() const {
  return front_.opening() >= 0 ? front_.viewport()->rect() : SelectTool::bounds();
}

void FrontSelectTool::paint(QPainter& painter) {
  SelectTool::paint(painter);
  const auto* wall = front_.wallRecord();
  if (!wall || front_.opening() < 0 || front_.opening() >= static_cast<int>(wall->openings.size())) return;
  const Opening& opening = wall->openings[static_cast<std::size_t>(front_.opening())];
  const QPointF corner = front_.toView(openingOutline(*wall, opening).boundingRect().topRight());
  painter.setPen(QPen(front_.look().color(Role::Accent), 1.4));
  painter.setBrush(front_.look().color(Role::Paper));
  painter.drawRect(QRectF(corner - QPointF(4, 4), QSizeF(8, 8)));
  if (!dragging_) return;
  const auto words = [&](Length v) { return QString::fromStdString(base::lengthText(v, front_.units())); };
  paintNote(painter, view(), QPointF(last_.view),
            {sizing_ ? words(opening.width) + QStringLiteral(" × ") + words(opening.height)
                     : wayWords(opening.at, front_.units())});
}

}  // namespace yw::ui
