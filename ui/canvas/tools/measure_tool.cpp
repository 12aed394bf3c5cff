#include "ui/canvas/tools/measure_tool.h"

#include <QClipboard>
#include <QGuiApplication>
#include <QKeyEvent>
#include <QPainter>
#include <cmath>

#include "core/base/number_text.h"
#include "ui/canvas/canvas_view.h"

namespace yw::ui {

using papers::Role;

QString MeasureTool::name() const { return said("canvas_tool_measure"); }

QString MeasureTool::status() const {
  return said(places_.empty()       ? "canvas_status_measure_first"
              : places_.size() == 1 ? "canvas_status_measure_second"
                                    : "canvas_status_measure_done");
}

void MeasureTool::press(const ToolEvent& event) {
  move(event);
  if (places_.size() == 2) places_.clear();
  const bool constrain = (event.modifiers & Qt::ShiftModifier) && !places_.empty();
  places_.push_back(constrain ? places_.back() + constrained(event.scene - places_.back()) : snapped_.at);
  statusChanged();
  repaint();
}

void MeasureTool::move(const ToolEvent& event) {
  last_ = event;
  snapped_ = caught(event);
  repaint();
}

void MeasureTool::takePlace(QPointF scene) {
  if (places_.size() == 2) places_.clear();
  snapped_ = {scene, false, Catch::Grid, {}, {}};
  places_.push_back(scene);
  statusChanged();
  repaint();
}

bool MeasureTool::stop() {
  if (places_.empty()) return false;
  places_.clear();
  statusChanged();
  repaint();
  return true;
}

QStringList MeasureTool::lines() const {
  if (places_.empty()) return {};
  QPointF end = places_.size() == 2 ? places_[1] : snapped_.at;
  if (places_.size() == 1 && (last_.modifiers & Qt::ShiftModifier))
    end = places_[0] + constrained(last_.scene - places_[0]);
  const QPointF way = end - places_[0];
  const auto both = [](const char* key, double mm) {
    const base::Length length = base::toLength({mm * 1e-3});
    return said(key, {{"a", base::lengthText(length, base::UnitSystem::FeetInches)},
                      {"b", base::lengthText(length, base::UnitSystem::Metric)}});
  };
  return {both("canvas_measure_distance", std::hypot(way.x(), way.y())),
          both("canvas_measure_right", way.x()), both("canvas_measure_up", -way.y()),
          said("canvas_measure_angle", {{"angle", base::toAngle(angleOf(way))}})};
}

bool MeasureTool::key(QKeyEvent& event) {
  const bool copy = event.key() == Qt::Key_C && (event.modifiers() & Qt::ControlModifier);
  if (!copy || places_.empty()) return false;
  QGuiApplication::clipboard()->setText(lines().join(QLatin1Char('\n')));
  return true;
}

void MeasureTool::paint(QPainter& painter) {
  paintCatch(painter, snapped_);
  if (places_.empty()) return;
  QPointF end = places_.size() == 2 ? places_[1] : snapped_.at;
  if (places_.size() == 1 && (last_.modifiers & Qt::ShiftModifier))
    end = places_[0] + constrained(last_.scene - places_[0]);
  const QPointF a = view().toView(places_[0]), b = view().toView(end);
  const QColor accent = view().look().color(Role::Accent);
  painter.setPen(QPen(accent, 1, Qt::DashLine));
  painter.drawLine(a, QPointF(b.x(), a.y()));
  painter.drawLine(QPointF(b.x(), a.y()), b);
  painter.setPen(QPen(accent, 1.8));
  painter.drawLine(a, b);
  for (const QPointF p : {a, b}) {
    painter.drawLine(p - QPointF(5, 0), p + QPointF(5, 0));
    painter.drawLine(p - QPointF(0, 5), p + QPointF(0, 5));
  }
  paintNote(painter, view(), b, lines());
}

}  // namespace yw::ui
