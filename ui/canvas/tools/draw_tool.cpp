#include "ui/canvas/tools/draw_tool.h"

#include <QApplication>
#include <QKeyEvent>
#include <QLineEdit>
#include <QPainter>
#include <algorithm>
#include <cmath>

#include "core/base/number_text.h"
#include "core/edit/ground.h"
#include "core/yard/labels.h"
#include "ui/canvas/canvas_view.h"
#include "ui/canvas/edits.h"

namespace yw::ui {

using papers::Role;
using yard::FeatureKind;

namespace {

QString kindLabel(FeatureKind kind) {
  return QString::fromUtf8(yard::words(FeatureKind{})[static_cast<std::size_t>(kind)].label);
}

constexpr int kCircleCorners = 24;
/// A way this near to square is squared; wider while a length is typed, since the hand has left the mouse.
constexpr double kSquareWithin = 3.0, kSquareWithinTyped = 12.0;  // degrees, choice

double apart(QPointF a, QPointF b) { return std::hypot(a.x() - b.x(), a.y() - b.y()); }

}  // namespace

DrawTool::DrawTool(CanvasView& view, FeatureKind kind) : PointTool(view), kind_(kind) {
  connect(&entry(), &InlineEntry::changed, this, [this] { repaint(); });
  connect(&entry(), &InlineEntry::cancelled, this, [this] { width_ = false; });
  connect(&entry(), &InlineEntry::entered, this, [this](base::Length length) {
    if (width_) {
      entry().put();
      return addStrip(length);
    }
    const QPointF at = candidate();
    entry().put();
    addCorner(at);
  });
  connect(&entry(), &InlineEntry::enteredSides, this, [this](base::Length width, base::Length depth) {
    const QPointF way = snapped_.at - corners_.back();
    entry().put();
    addRectangle(corners_.back() + QPointF(base::metres(width).si * (way.x() < 0 ? -1e3 : 1e3),
                                           base::metres(depth).si * (way.y() > 0 ? 1e3 : -1e3)));
  });
}

bool DrawTool::closed() const { return !yard::isLine(kind_); }

QString DrawTool::name() const {
  return said("canvas_tool_draw", {{"what", kindLabel(kind_).toLower().toStdString()}});
}

QString DrawTool::status() const {
  if (round()) return said(corners_.empty() ? "canvas_status_draw_center" : "canvas_status_draw_edge");
  if (corners_.empty()) return said("canvas_status_draw_first");
  if (closed() && corners_.size() == 1) return said("canvas_status_draw_second");
  if (closed() && corners_.size() == 2)
    return said(widens() ? "canvas_status_draw_strip" : "canvas_status_draw_third");
  return said(closed() ? "canvas_status_draw_closed" : "canvas_status_draw_open");
}

/// The next corner: along the pointer's way, as long as is typed if something is.
QPointF DrawTool::candidate() const {
  if (corners_.empty()) return snapped_.at;
  QPointF way = snapped_.at - corners_.back();
  if (rectangle_) return snapped_.at;
  if (last_.modifiers & Qt::ShiftModifier)
    way = constrained(last_.scene - corners_.back());
  else
    way = squared(way);
  const double length = std::hypot(way.x(), way.y());
  const auto typed = const_cast<DrawTool*>(this)->entry().asking() && !width_
                         ? const_cast<DrawTool*>(this)->entry().length()
                         : std::nullopt;
  if (typed) {
    if (length < 1e-9) way = QPointF(1, 0);
    way *= base::metres(*typed).si * 1e3 / std::max(length, 1e-9);
  }
  return corners_.back() + way;
}

/// `way`, turned square to the last side (or to level, for the first) if it is nearly so and nothing nearer
/// than the grid caught it.
QPointF DrawTool::squared(QPointF way) const {
  if (round() || !view().snaps() || (last_.modifiers & Qt::AltModifier)) return way;
  if (snapped_.caught && snapped_.kind != Catch::Grid) return way;
  const double before = corners_.size() > 1 ? angleOf(corners_.back() - corners_[corners_.size() - 2]) : 0.0;
  const double off = std::remainder(angleOf(way) - before, 90.0);
  if (std::abs(off) > (asking() ? kSquareWithinTyped : kSquareWithin)) return way;
  const double turned = (angleOf(way) - off) * M_PI / 180.0;
  const double c = std::abs(std::cos(turned)) < 1e-12 ? 0.0 : std::cos(turned);
  const double s = std::abs(std::sin(turned)) < 1e-12 ? 0.0 : std::sin(turned);
  const double length = way.x() * c - way.y() * s;
  return {length * c, -length * s};
}

void DrawTool::move(const ToolEvent& event) {
  last_ = event;
  snapped_ = caught(event);
  if (pressedAt_ && (event.buttons & Qt::LeftButton) &&
      (event.view - *pressedAt_).manhattanLength() >= QApplication::startDragDistance() * 2)
    rectangle_ = true;
  if (asking()) entry().moveNear(event.view);
  repaint();
}

void DrawTool::press(const ToolEvent& event) {
  move(event);
  const QPointF at = candidate();
  if (asking()) entry().put();
  width_ = false;
  const bool backAtStart =
      corners_.size() >= 3 && apart(view().toView(at), view().toView(corners_.front())) <= 8.0;
  if (closed() && backAtStart) return finish();
  addCorner(at);
  if (closed() && !round() && corners_.size() == 1) pressedAt_ = event.view;
}

void DrawTool::release(const ToolEvent& event) {
  pressedAt_.reset();
  if (!rectangle_) return;
  move(event);
  addRectangle(snapped_.at);
}

/// Ends the outline as a rectangle from the first corner to the opposite one.
void DrawTool::addRectangle(QPointF opposite) {
  rectangle_ = false;
  if (corners_.size() != 1) return;
  const QPointF first = corners_.front();
  if (std::min(std::abs(opposite.x() - first.x()), std::abs(opposite.y() - first.y())) < 1.0) {  // mm
    repaint();
    return;
  }
  corners_ = {first, {opposite.x(), first.y()}, opposite, {first.x(), opposite.y()}};
  finish();
}

/// Ends the outline as a strip about the side that stands, half its width to each hand.
void DrawTool::addStrip(base::Length width) {
  width_ = false;
  if (corners_.size() != 2) return;
  const QPointF way = corners_[1] - corners_[0];
  const QPointF aside = QPointF(-way.y(), way.x()) * (base::metres(width).si * 500.0 / apart({}, way));  // mm
  corners_ = {corners_[0] + aside, corners_[1] + aside, corners_[1] - aside, corners_[0] - aside};
  finish();
}

void DrawTool::addCorner(QPointF scene) {
  if (!corners_.empty() && apart(scene, corners_.back()) < 1e-3) return;
  corners_.push_back(scene);
  told_.clear();
  if (round() && corners_.size() == 2) return finish();
  statusChanged();
  repaint();
}

void DrawTool::takePlace(QPointF scene) {
  snapped_ = {scene, false, Catch::Grid, {}, {}};
  addCorner(scene);
}

void DrawTool::doubleClick(const ToolEvent&) { finish(); }

bool DrawTool::widens() const {
  using enum FeatureKind;
  return corners_.size() == 2 && (kind_ == Walk || kind_ == Drive || kind_ == Bed || kind_ == PublicStrip);
}

bool DrawTool::key(QKeyEvent& event) {
  if (event.key() == Qt::Key_Return || event.key() == Qt::Key_Enter) {
    if (widens()) {
      width_ = true;
      entry().setTwo(false);
      entry().ask(said("canvas_ask_strip_width"), last_.view, units());
    } else {
      finish();
    }
    return true;
  }
  if (event.key() == Qt::Key_Backspace && !corners_.empty()) {
    corners_.pop_back();
    told_.clear();
    statusChanged();
    repaint();
    return true;
  }
  if (!corners_.empty() && beginsLength(event)) {
    const bool two = closed() && !round() && corners_.size() == 1;
    width_ = false;
    entry().setTwo(two);
    entry().ask(said(round() ? "canvas_ask_radius"
                     : two   ? "canvas_ask_side_or_two"
                             : "canvas_ask_side"),
                last_.view, units(), event.text());
    return true;
  }
  return false;
}

bool DrawTool::stop() {
  if (PointTool::stop()) return true;
  pressedAt_.reset();
  rectangle_ = false;
  width_ = false;
  told_.clear();
  if (corners_.empty()) return false;
  corners_.clear();
  statusChanged();
  repaint();
  return true;
}

void DrawTool::finish() {
  const std::size_t needed = round() ? 2 : closed() ? 3 : 2;
  if (corners_.size() < needed) {
    if (!corners_.empty()) told_ = said(closed() ? "canvas_note_too_few_closed" : "canvas_note_too_few_open");
    return repaint();
  }
  yard::GroundFeature feature = edit::usualFeature(kind_);
  if (round()) {
    const double radius = apart(corners_[0], corners_[1]);
    for (int i = 0; i < kCircleCorners; ++i) {
      const double turn = 2 * M_PI * i / kCircleCorners;
      feature.outline.push_back(
          pointOf(corners_[0] + QPointF(radius * std::cos(turn), -radius * std::sin(turn))));
    }
  } else {
    for (const QPointF corner : corners_) feature.outline.push_back(pointOf(corner));
  }
  const yard::Yard& yard = document().yard();
  feature.name = yard::freeName(yard, yard::RecordKind::GroundFeature, kindLabel(kind_).toStdString());
  edit::Editor editor(yard);
  const base::Id id = editor.add(feature);
  if (kind_ == FeatureKind::House) edits::addWalls(editor, id);
  const QRectF seen = view().viewport()->rect();
  const bool outside = std::any_of(corners_.begin(), corners_.end(),
                                   [&](QPointF corner) { return !seen.contains(view().toView(corner)); });
  corners_.clear();
  document().commit(editor.finish(name().toStdString()));
  document().selection().set({id});
  leave();
  if (outside) view().widenToAll();  // typed longer than the view is wide
}

QStringList DrawTool::note() const {
  QStringList lines;
  if (!told_.isEmpty()) lines << told_;
  if (!corners_.empty()) {
    const QPointF way = candidate() - corners_.back();
    const double length = std::hypot(way.x(), way.y());
    if (rectangle_) {
      lines << said("canvas_note_rectangle",
                    {{"width", base::toLength({std::abs(way.x()) * 1e-3})},
                     {"depth", base::toLength({std::abs(way.y()) * 1e-3})}},
                    units());
    } else if (round()) {
      lines << said("canvas_note_radius", {{"length", base::toLength({length * 1e-3})}}, units());
    } else {
      double angle = angleOf(way);
      if (corners_.size() > 1) {  // the corner this side makes with the one before
        angle = std::abs(angle - angleOf(corners_[corners_.size() - 2] - corners_.back()));
        if (angle > 180) angle = 360 - angle;
      }
      lines << said(corners_.size() > 1 ? "canvas_note_side_corner" : "canvas_note_side",
                    {{"length", base::toLength({length * 1e-3})}, {"angle", base::toAngle(angle)}}, units());
    }
  }
  if (snapped_.caught && !(last_.modifiers & Qt::ShiftModifier)) lines << snapped_.name;
  return lines;
}

void DrawTool::paint(QPainter& painter) {
  const QColor accent = view().look().color(Role::Accent);
  if (!(last_.modifiers & Qt::ShiftModifier) && !asking()) paintCatch(painter, snapped_);
  if (!corners_.empty()) {
    const QPointF next = candidate();
    QPolygonF line;
    for (const QPointF corner : corners_) line << view().toView(corner);
    painter.setPen(QPen(accent, 1.8));
    painter.setBrush(Qt::NoBrush);
    if (round()) {
      const double radius = apart(next, corners_[0]) * view().scaleNow();
      painter.drawEllipse(line[0], radius, radius);
    } else if (rectangle_) {
      painter.drawRect(QRectF(line[0], view().toView(next)).normalized());
    } else {
      painter.drawPolyline(line);
      QPen pen(accent, 1.8, Qt::DashLine);
      painter.setPen(pen);
      painter.drawLine(line.back(), view().toView(next));
      pen.setWidthF(0.8);
      painter.setPen(pen);
      if (closed() && corners_.size() > 1) painter.drawLine(view().toView(next), line.front());
    }
    painter.setPen(QPen(accent, 1.4));
    painter.setBrush(view().look().color(Role::Paper));
    for (const QPointF corner : line) painter.drawRect(QRectF(corner - QPointF(3, 3), QSizeF(6, 6)));
  }
  if (!asking()) paintNote(painter, view(), QPointF(last_.view), note());
}

}  // namespace yw::ui
