#include "ui/canvas/tools/repeat_tool.h"

#include <QKeyEvent>
#include <QPainter>
#include <algorithm>
#include <cmath>

#include "core/shapes/rows.h"

namespace yw::ui {

using base::Id;
using base::Vec2;
using edits::Copying;
using papers::Role;

namespace {
constexpr std::int64_t kMost = 500;  // copies in a row: more is a slip of the finger
}

RepeatTool::RepeatTool(CanvasView& view, RepeatKind kind) : PointTool(view), kind_(kind) {
  for (const Id id : document().selection().ids())
    if (view.canMoveHere(id) && view.placeHere(id)) ids_.insert(id);
  if (!ids_.empty()) anchor_ = *view.placeHere(*ids_.begin());
  if (kind_ == RepeatKind::Circle) count_ = 6;
  snapped_.at = anchor_;
}

QString RepeatTool::name() const { return said("canvas_tool_repeat"); }

QString RepeatTool::status() const {
  if (ids_.empty()) return said("canvas_status_repeat_none");
  switch (kind_) {
    case RepeatKind::Line:
      return said("canvas_status_repeat_line");
    case RepeatKind::Grid:
      return said(row_ ? "canvas_status_repeat_rows" : "canvas_status_repeat_row");
    case RepeatKind::Circle:
      return said("canvas_status_repeat_circle");
    case RepeatKind::Mirror:
      return said("canvas_status_repeat_mirror");
    case RepeatKind::Path:
      return said("canvas_status_repeat_path");
  }
  return {};
}

Vec2 RepeatTool::way() const {
  const QPointF from = path_.empty() ? anchor_ : path_.back();
  QPointF to = snapped_.at - from;
  if (last_.modifiers & Qt::ShiftModifier) to = constrained(last_.scene - from);
  return planOf(to);
}

std::vector<Copying> RepeatTool::copies() const {
  std::vector<Copying> made;
  const Vec2 center = planOf(snapped_.at);
  const double last = static_cast<double>(std::max<std::int64_t>(1, count_ - 1));
  switch (kind_) {
    case RepeatKind::Mirror:
      made.push_back({{}, center, 0.0, true});
      break;
    case RepeatKind::Circle:
      for (std::int64_t k = 1; k < count_; ++k)
        made.push_back({{}, center, 360.0 * static_cast<double>(k) / static_cast<double>(count_), false});
      break;
    case RepeatKind::Line:
      for (std::int64_t k = 1; k < count_; ++k)
        made.push_back({way() * (static_cast<double>(k) / last), {}, 0.0, false});
      break;
    case RepeatKind::Path:
      return copiesAlong();
    case RepeatKind::Grid: {
      const Vec2 across = row_.value_or(way()), down = row_ ? way() : Vec2{};
      const std::int64_t rows = row_ ? rows_ : 1;
      const double lastRow = static_cast<double>(std::max<std::int64_t>(1, rows - 1));
      for (std::int64_t r = 0; r < rows; ++r)
        for (std::int64_t k = 0; k < count_; ++k)
          if (r > 0 || k > 0)
            made.push_back(
                {across * (static_cast<double>(k) / last) + down * (static_cast<double>(r) / lastRow),
                 {},
                 0.0,
                 false});
      break;
    }
  }
  return made;
}

/// Evenly along what was clicked; while nothing was, to the pointer.
std::vector<Copying> RepeatTool::copiesAlong() const {
  std::vector<base::Point> line{pointOf(anchor_)};
  for (const QPointF p : path_) line.push_back(pointOf(p));
  if (path_.empty()) line.push_back(base::point(planOf(anchor_) + way()));
  std::vector<Copying> made;
  const auto spots = shapes::alongPath(line, count_);
  for (std::size_t k = 1; k < spots.size(); ++k) {
    const double turn = base::degrees(spots[k].heading) - base::degrees(spots[0].heading);
    made.push_back({base::vec(spots[k].at) - planOf(anchor_), planOf(anchor_), along_ ? turn : 0.0, false});
  }
  return made;
}

void RepeatTool::doubleClick(const ToolEvent&) {
  if (kind_ == RepeatKind::Path && !path_.empty()) place();
}

void RepeatTool::move(const ToolEvent& event) {
  last_ = event;
  snapped_ = caught(event);
  repaint();
}

void RepeatTool::press(const ToolEvent& event) {
  move(event);
  if (ids_.empty()) return;
  if (kind_ == RepeatKind::Grid && !row_) {
    row_ = way();
    rows_ = 2;
    typing_ = false;
    statusChanged();
    return repaint();
  }
  if (kind_ == RepeatKind::Path) {
    path_.push_back(toScene(planOf(path_.empty() ? anchor_ : path_.back()) + way()));
    statusChanged();
    return repaint();
  }
  place();
}

void RepeatTool::place() {
  edit::Editor editor(document().yard());
  const std::set<Id> made = edits::repeat(editor, ids_, copies(), view().plane());
  if (made.empty()) return;
  std::set<Id> all = made;
  all.insert(ids_.begin(), ids_.end());
  const char* key = kind_ == RepeatKind::Mirror ? "canvas_mirror" : "canvas_repeat";
  document().commit(editor.finish(edits::stepName(key, document().yard(), ids_)));
  document().selection().set(all);
  leave();
}

bool RepeatTool::key(QKeyEvent& event) {
  if (event.key() == Qt::Key_Return || event.key() == Qt::Key_Enter) {
    if (!ids_.empty()) place();
    return true;
  }
  if (kind_ == RepeatKind::Path && event.key() == Qt::Key_T) {
    along_ = !along_;
    return repaint(), true;
  }
  if (kind_ == RepeatKind::Path && event.key() == Qt::Key_Backspace && !typing_) {
    if (!path_.empty()) path_.pop_back();
    return repaint(), true;
  }
  const QString text = event.text();
  const bool digit = text.size() == 1 && text[0].isDigit();
  const bool step = event.key() == Qt::Key_Plus || event.key() == Qt::Key_Minus;
  if ((event.modifiers() & (Qt::ControlModifier | Qt::AltModifier)) || kind_ == RepeatKind::Mirror)
    return false;
  if (!digit && !step && event.key() != Qt::Key_Backspace) return false;
  count(event);
  repaint();
  return true;
}

void RepeatTool::count(QKeyEvent& event) {
  std::int64_t& number = row_ ? rows_ : count_;
  if (event.key() == Qt::Key_Backspace) {
    number /= 10;
  } else if (event.key() == Qt::Key_Plus || event.key() == Qt::Key_Minus) {
    number += event.key() == Qt::Key_Plus ? 1 : -1;
    typing_ = false;
  } else {
    const int typed = event.text()[0].digitValue();
    number = typing_ ? number * 10 + typed : typed;
    typing_ = true;
  }
  number = std::clamp<std::int64_t>(number, 1, kMost);
}

bool RepeatTool::stop() {
  if (!row_ && path_.empty()) return false;
  row_.reset();
  path_.clear();
  statusChanged();
  repaint();
  return true;
}

QStringList RepeatTool::note() const {
  QStringList lines;
  if (ids_.empty()) return lines;
  if (kind_ == RepeatKind::Circle)
    lines << said("canvas_note_repeat_circle",
                  {{"n", count_}, {"angle", base::toAngle(360.0 / static_cast<double>(count_))}});
  if (kind_ == RepeatKind::Line || kind_ == RepeatKind::Grid) {
    const double parts = static_cast<double>(std::max<std::int64_t>(1, (row_ ? rows_ : count_) - 1));
    if (row_) lines << said("canvas_note_repeat_grid", {{"rows", rows_}, {"n", count_}});
    lines << said("canvas_note_repeat",
                  {{"n", row_ ? rows_ : count_}, {"apart", base::toLength({base::norm(way()) / parts})}},
                  view().units());
  }
  if (kind_ == RepeatKind::Path) {
    const auto all = copiesAlong();
    const double apart = all.empty() ? 0.0 : base::norm(all.front().by);
    lines << said("canvas_note_repeat", {{"n", count_}, {"apart", base::toLength({apart})}}, view().units());
    if (along_) lines << said("canvas_note_repeat_along");
  }
  if (snapped_.caught) lines << snapped_.name;
  return lines;
}

void RepeatTool::paint(QPainter& painter) {
  paintCatch(painter, snapped_);
  const QColor accent = view().look().color(Role::Accent);
  QPen pen(accent, 1.3);
  painter.setBrush(Qt::NoBrush);
  for (const Id id : ids_) {
    const CanvasItem* item = view().canvas().item(id);
    const auto from = view().placeHere(id);
    if (!item || !from) continue;
    const auto* prop = dynamic_cast<const PropItem*>(item);
    for (const Copying& copying : copies()) {
      const QPointF at = view().toView(toScene(copying(planOf(*from))));
      painter.save();
      painter.translate(at);
      painter.rotate(-copying.turn);
      if (copying.mirrored) painter.scale(-1, 1);
      painter.scale(view().scaleNow(), view().scaleNow());
      pen.setCosmetic(true);
      painter.setPen(pen);
      if (prop) {
        painter.rotate(prop->rotation());
        if (!prop->drawing()->body.isEmpty()) painter.drawPolygon(prop->drawing()->body);
        for (const QPolygonF& line : prop->drawing()->frame) painter.drawPolyline(line);
      } else {
        painter.drawRect(item->extent().translated(-*from).adjusted(-80, -80, 80, 80));
      }
      painter.restore();
    }
  }
  if (kind_ == RepeatKind::Mirror && !ids_.empty()) {
    painter.setPen(QPen(accent, 1, Qt::DashDotLine));
    const double x = view().toView(snapped_.at).x();
    painter.drawLine(QPointF(x, 0), QPointF(x, view().viewport()->height()));
  }
  if (kind_ == RepeatKind::Path && !ids_.empty()) {
    QPolygonF line{view().toView(anchor_)};
    for (const QPointF p : path_) line << view().toView(p);
    painter.setPen(QPen(accent, 1.4));
    painter.drawPolyline(line);
    painter.setPen(QPen(accent, 1.4, Qt::DashLine));
    painter.drawLine(line.back(),
                     view().toView(toScene(planOf(path_.empty() ? anchor_ : path_.back()) + way())));
  }
  paintNote(painter, view(), QPointF(last_.view), note());
}

}  // namespace yw::ui
