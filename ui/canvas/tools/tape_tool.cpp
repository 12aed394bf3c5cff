#include "ui/canvas/tools/tape_tool.h"

#include <QKeyEvent>
#include <QLineEdit>
#include <QPainter>
#include <algorithm>
#include <cmath>

#include "core/base/number_text.h"
#include "ui/canvas/canvas_view.h"
#include "ui/canvas/edits.h"

namespace yw::ui {

using papers::Role;

namespace {
double apart(QPointF a, QPointF b) { return std::hypot(a.x() - b.x(), a.y() - b.y()); }
double mm(base::Length length) { return base::metres(length).si * 1e3; }
}  // namespace

TapeTool::TapeTool(CanvasView& view, std::unique_ptr<Tool> below)
    : PointTool(view), below_(std::move(below)), moved_(document().selection().single()) {
  points_ = view.tapes().points;
  connect(&entry(), &InlineEntry::entered, this, &TapeTool::entered);
  connect(&entry(), &InlineEntry::changed, this, [this] { repaint(); });
  connect(&entry(), &InlineEntry::cancelled, this, [this] {
    refusal_.clear();
    if (std::exchange(askingError_, false)) return statusChanged();
    if (tapes_.empty()) return backToPoints();
    tapes_.pop_back();
    ask();
  });
}

TapeTool::~TapeTool() = default;

QString TapeTool::name() const { return said("canvas_tool_tapes"); }

QString TapeTool::status() const {
  if (points_.empty()) return said("canvas_status_tapes_first");
  if (choosingPoints()) return said("canvas_status_tapes_second");
  if (!refusal_.isEmpty()) return refusal_;
  return said(places_ ? "canvas_status_tapes_side" : "canvas_status_tapes_type");
}

void TapeTool::start() {
  if (!choosingPoints()) ask();
}

base::Length TapeTool::usualError() const {
  const base::Length kept = view().tapes().error;
  if (kept.count >= 0) return kept;
  // What a hand holds a tape to; common practice, no source.
  return units() == base::UnitSystem::Metric ? base::toLength({0.01})
                                             : base::Length{base::inches(1).count / 2};
}

void TapeTool::ask() {
  const auto& from = points_[tapes_.size()];
  const QString what = from.name.isEmpty() ? said("canvas_tapes_here") : from.name;
  entry().ask(said(tapes_.empty() ? "canvas_ask_tape_first" : "canvas_ask_tape_second",
                   {{"what", what.toStdString()}}),
              view().toView(from.at).toPoint(), units());
  statusChanged();
  repaint();
}

void TapeTool::backToPoints() {
  points_.clear();
  tapes_.clear();
  places_.reset();
  walked_ = -1;
  statusChanged();
  repaint();
}

void TapeTool::move(const ToolEvent& event) {
  last_ = event;
  snapped_ = caught(event);
  walked_ = -1;
  left_.reset();
  repaint();
}

void TapeTool::press(const ToolEvent& event) {
  move(event);
  if (places_ && !asking()) return give();
  if (!choosingPoints()) return;
  CatchPoint point{snapped_.at, Catch::End,
                   snapped_.caught && snapped_.kind != Catch::Grid ? snapped_.name : QString()};
  if (!points_.empty() && apart(points_[0].at, point.at) < 1.0) return;
  points_.push_back(point);
  if (choosingPoints()) {
    statusChanged();
    return repaint();
  }
  ask();
}

/// The fixed points one may mean, one after another: corners and middles of what stands there.
void TapeTool::walk(int by) {
  if (walk_.empty()) walk_ = view().catches({});
  if (walk_.empty()) return;
  const int count = static_cast<int>(walk_.size());
  walked_ = walked_ < 0 ? (by > 0 ? 0 : count - 1) : (walked_ + by + count) % count;
  const CatchPoint& point = walk_[static_cast<std::size_t>(walked_)];
  snapped_ = {point.at, true, point.kind, point.name, {}};
  last_.view = view().toView(point.at).toPoint();
  if (!view().viewport()->rect().contains(last_.view)) view().ensureVisible(QRectF(point.at, QSizeF(1, 1)));
  repaint();
}

bool TapeTool::key(QKeyEvent& event) {
  const bool enter = event.key() == Qt::Key_Return || event.key() == Qt::Key_Enter;
  if (choosingPoints()) {
    if (event.key() == Qt::Key_PageDown || event.key() == Qt::Key_PageUp)
      return walk(event.key() == Qt::Key_PageDown ? 1 : -1), true;
    if (enter && walked_ >= 0) {
      const int kept = walked_;
      ToolEvent there;
      there.scene = snapped_.at;
      there.view = last_.view;
      press(there);
      walked_ = kept;
      return true;
    }
    if (event.key() == Qt::Key_Backspace && !points_.empty()) return backToPoints(), true;
    return enter;
  }
  if (!places_) return false;
  if (enter) return give(), true;
  if (event.key() == Qt::Key_Left || event.key() == Qt::Key_Right || event.key() == Qt::Key_Up ||
      event.key() == Qt::Key_Down) {
    left_ = !(candidate() == std::optional<QPointF>(toScene(places_->left)));
    repaint();
    return true;
  }
  if (event.key() == Qt::Key_Backspace) {
    places_.reset();
    tapes_.pop_back();
    ask();
    return true;
  }
  if (beginsLength(event)) {
    askingError_ = true;
    entry().ask(said("canvas_ask_tape_error"), last_.view, units(), event.text());
    return true;
  }
  return false;
}

void TapeTool::entered(base::Length typed) {
  entry().put();
  if (std::exchange(askingError_, false)) {
    view().tapes().error = typed;
    return solve();
  }
  tapes_.push_back(typed);
  if (tapes_.size() < 2) return ask();
  solve();
}

void TapeTool::solve() {
  refusal_.clear();
  places_.reset();
  const auto found =
      base::byTwoTapes(pointOf(points_[0].at), tapes_[0], pointOf(points_[1].at), tapes_[1], usualError());
  if (!found) {
    refusal_ = QString::fromStdString(base::text(found.error(), units()));
    const base::Length wrong = tapes_.back();
    tapes_.pop_back();
    ask();
    entry().edit()->setText(QString::fromStdString(base::lengthText(wrong, units())));
    entry().edit()->selectAll();
    return;
  }
  places_ = *found;
  statusChanged();
  repaint();
}

std::optional<QPointF> TapeTool::candidate() const {
  if (!places_) return std::nullopt;
  const QPointF left = toScene(places_->left), right = toScene(places_->right);
  const bool toLeft = left_ ? *left_ : apart(left, last_.scene) <= apart(right, last_.scene);
  return toLeft ? left : right;
}

void TapeTool::give() {
  const QPointF at = *candidate();
  view().tapes().points = points_;
  const QString told =
      said("canvas_tapes_placed",
           {{"a", tapes_[0]}, {"b", tapes_[1]}, {"error", base::toLength({places_->error})}}, units());
  if (below_) {
    Tool* tool = below_.get();
    giveBack();
    tool->takePlace(at);  // it may leave itself
  } else if (moved_) {
    const auto from = view().placeHere(moved_);
    edit::Editor editor(document().yard());
    if (from) view().addMove(editor, {moved_}, pointOf(at) - pointOf(*from));
    document().commit(editor.finish(edits::stepName("canvas_move", document().yard(), {moved_})));
    leave();
  }
  Q_EMIT document().said(told);
}

void TapeTool::giveBack() { view().backToTool(std::move(below_)); }

bool TapeTool::stop() {
  const bool typing = PointTool::stop();
  if (!below_) return typing;
  giveBack();
  return true;
}

void TapeTool::yardChanged() {
  PointTool::yardChanged();
  walk_.clear();
  if (below_) below_->yardChanged();
}

QStringList TapeTool::note() const {
  QStringList lines;
  if (choosingPoints()) {
    if (snapped_.caught) lines << snapped_.name;
    return lines;
  }
  if (!refusal_.isEmpty()) return {refusal_};
  if (!places_) return lines;
  lines << said("canvas_note_tapes_error",
                {{"error", base::toLength({places_->error})}, {"each", usualError()}}, units());
  lines << said("canvas_note_tapes_cross",
                {{"angle", static_cast<std::int64_t>(std::lround(places_->crossing))}}, units());
  constexpr double kFlat = 30.0;  // degrees; below it the error more than doubles twice over, choice
  if (std::min(places_->crossing, 180.0 - places_->crossing) < kFlat) lines << said("canvas_note_tapes_flat");
  return lines;
}

void TapeTool::paint(QPainter& painter) {
  if (below_) below_->paint(painter);
  const QColor accent = view().look().color(Role::Accent);
  if (choosingPoints()) paintCatch(painter, snapped_);
  painter.setBrush(Qt::NoBrush);
  for (std::size_t i = 0; i < points_.size(); ++i) {
    const QPointF at = view().toView(points_[i].at);
    painter.setPen(QPen(accent, 1.8));
    painter.drawLine(at - QPointF(6, 0), at + QPointF(6, 0));
    painter.drawLine(at - QPointF(0, 6), at + QPointF(0, 6));
    std::optional<base::Length> tape = i < tapes_.size() ? std::optional(tapes_[i]) : std::nullopt;
    if (!tape && i == tapes_.size() && asking() && !askingError_) tape = entry().length();
    if (!tape) continue;
    painter.setPen(QPen(accent, 1, Qt::DashLine));
    const double radius = mm(*tape) * view().scaleNow();
    painter.drawEllipse(at, radius, radius);
  }
  const auto at = candidate();
  if (at) {
    const QPointF place = view().toView(*at);
    const QPointF left = toScene(places_->left), right = toScene(places_->right);
    painter.setPen(QPen(accent, 1.8));
    for (const CatchPoint& point : points_) painter.drawLine(view().toView(point.at), place);
    painter.drawEllipse(view().toView(*at == left ? right : left), 4, 4);
    painter.setBrush(accent);
    painter.drawEllipse(place, 5, 5);
  }
  if (!asking() || !refusal_.isEmpty())
    paintNote(painter, view(), at ? view().toView(*at) : QPointF(last_.view), note());
}

}  // namespace yw::ui
