#include "ui/canvas/tools/opening_tool.h"

#include <QKeyEvent>
#include <QPainter>
#include <algorithm>
#include <cmath>

#include "core/edit/change.h"
#include "ui/canvas/canvas_view.h"
#include "ui/document/document.h"

namespace yw::ui {

using papers::Role;

namespace {
const yard::ChoiceWord& wordOf(yard::OpeningKind kind) {
  return yard::words(kind)[static_cast<std::size_t>(kind)];
}
}  // namespace

OpeningTool::OpeningTool(CanvasView& view, base::Id wall, yard::OpeningKind kind)
    : PointTool(view), wall_(wall), kind_(kind) {
  connect(&entry(), &InlineEntry::entered, this, [this](base::Length length) {
    entry().put();
    const double mm = base::metres(length).si * 1e3;
    if (!width_) {
      width_ = mm;
      statusChanged();
      // A gable's height follows from the roof's pitch, an eave has none.
      if (kind_ == yard::OpeningKind::Gable || kind_ == yard::OpeningKind::Eave) finish();
    } else {
      height_ = mm;
      finish();
    }
    repaint();
  });
}

QString OpeningTool::name() const {
  return said("canvas_tool_opening", {{"what", std::string(wordOf(kind_).label)}});
}

QString OpeningTool::status() const {
  return said(places_.empty() ? "canvas_status_opening_first"
              : width_        ? "canvas_status_opening_height"
                              : "canvas_status_opening_second");
}

void OpeningTool::press(const ToolEvent& event) {
  move(event);
  if (asking()) entry().put();
  places_.push_back(snapped_.at);
  statusChanged();
  if (places_.size() == 2) finish();
  repaint();
}

void OpeningTool::move(const ToolEvent& event) {
  last_ = event;
  snapped_ = caught(event);
  repaint();
}

bool OpeningTool::key(QKeyEvent& event) {
  if (places_.empty() || !beginsLength(event)) return false;
  entry().ask(said(width_ ? "canvas_ask_height" : "canvas_ask_width"), last_.view, units(), event.text());
  return true;
}

bool OpeningTool::stop() {
  if (PointTool::stop()) return true;
  if (places_.empty()) return false;
  places_.clear();
  width_.reset();
  height_.reset();
  statusChanged();
  repaint();
  return true;
}

QRectF OpeningTool::shape() const {
  if (places_.empty()) return {};
  const QPointF a = places_[0], b = places_.size() > 1 ? places_[1] : snapped_.at;
  QPointF way = b - a;
  if (width_) way.setX(way.x() < 0 ? -*width_ : *width_);
  if (height_) way.setY(way.y() > 0 ? *height_ : -*height_);
  if (kind_ == yard::OpeningKind::Eave || kind_ == yard::OpeningKind::Gable) way.setY(0);
  return QRectF(a, a + way).normalized();
}

void OpeningTool::finish() {
  const QRectF rect = shape();
  places_.clear();
  width_.reset();
  height_.reset();
  const auto* wall = yard::find<yard::Wall>(document().yard(), wall_);
  if (!wall || rect.width() < 1) return;
  yard::Opening opening;
  opening.kind = kind_;
  opening.at = {base::toLength({rect.left() * 1e-3}), base::toLength({std::max(0.0, -rect.bottom()) * 1e-3})};
  opening.width = base::toLength({rect.width() * 1e-3});
  opening.height = base::toLength({rect.height() * 1e-3});
  const auto same = std::count_if(wall->openings.begin(), wall->openings.end(),
                                  [&](const yard::Opening& o) { return o.kind == kind_; });
  opening.name = std::string(wordOf(kind_).label) + " " + std::to_string(same + 1);
  edit::Editor editor(document().yard());
  editor.update<yard::Wall>(wall_, [&](yard::Wall& w) { w.openings.push_back(opening); });
  document().commit(editor.finish(
      base::text(base::Message{"canvas_draw_opening", {{"what", opening.name}, {"wall", wall->name}}})));
  statusChanged();
  view().viewport()->update();
}

void OpeningTool::paint(QPainter& painter) {
  paintCatch(painter, snapped_);
  if (places_.empty()) return;
  const QRectF rect = shape();
  painter.setBrush(Qt::NoBrush);
  painter.setPen(QPen(view().look().color(Role::Accent), 1.6));
  painter.drawRect(QRectF(view().toView(rect.topLeft()), view().toView(rect.bottomRight())));
  paintNote(painter, view(), view().toView(snapped_.at),
            {lengthWords(rect.width()) + QStringLiteral(" × ") + lengthWords(rect.height())});
}

}  // namespace yw::ui
