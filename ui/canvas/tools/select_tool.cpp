#include "ui/canvas/tools/select_tool.h"

#include <QKeyEvent>
#include <QPainter>
#include <algorithm>
#include <cmath>

#include "core/base/number_text.h"
#include "core/yard/labels.h"
#include "ui/canvas/canvas_view.h"
#include "ui/canvas/edits.h"

namespace yw::ui {

using base::Id;
using base::Point;
using papers::Role;

namespace {
constexpr int kDragStart = 4;        ///< logical pixels: less is a click
constexpr double kSnapReach = 10.0;  ///< logical pixels within which a place catches

bool near(QPoint a, QPoint b, double reach) { return std::hypot(a.x() - b.x(), a.y() - b.y()) <= reach; }

/// Angle of a way of the scene, degrees anticlockwise from straight down: the heading it would give.
double headingOf(QPointF way) { return std::atan2(way.x(), way.y()) * 180.0 / M_PI; }
}  // namespace

QString SelectTool::name() const { return said("canvas_tool_select"); }
QString SelectTool::status() const { return said("canvas_status_select"); }

// ---- press, move, release

void SelectTool::press(const ToolEvent& event) {
  pressed_ = last_ = event;
  gesture_ = Gesture::Pressed;
  finding_ = view().findingAt(event.view);  // a click opens it, a drag moves what lies under the sign
  change_ = {};
  before_ = document().stale() ? nullptr : document().assessment();
  outcome_.clear();
  refusal_.clear();
  if (const auto handle = turnHandle(); handle && near(*handle, event.view, kHandle + 3)) {
    gesture_ = Gesture::Turning;
    return;
  }
  corner_ = cornerAt(event.view);
  inserting_ = corner_ < 0 && middleAt(event.view) >= 0;
  if (inserting_) corner_ = middleAt(event.view) + 1;
  if (corner_ >= 0) {
    gesture_ = Gesture::Corner;
    snapper_ = view().snapper({document().selection().single()});
    return;
  }
  const auto ids = view().idsAt(event.scene);
  pressedId_ = ids.empty() ? Id{} : ids.front();
  for (const Id id : ids)  // what is selected already is what the hand means to drag
    if (document().selection().ids().contains(id) && view().canMoveHere(id)) pressedId_ = id;
}

void SelectTool::move(const ToolEvent& event) {
  last_ = event;
  switch (gesture_) {
    case Gesture::None:
    case Gesture::Stopped:
      return;
    case Gesture::Pressed:
      if (dragged(event)) begin(event);
      return;
    case Gesture::Band:
      break;
    case Gesture::Moving:
      dragMoving(event);
      break;
    case Gesture::Turning:
      if (dragged(event)) dragTurning(event);
      break;
    case Gesture::Corner:
      if (dragged(event)) dragCorner(event);
      break;
    case Gesture::Jumper:
      dragJumper(event);
      break;
  }
  repaint();
}

bool SelectTool::dragged(const ToolEvent& event) const {
  return !change_.empty() || !near(event.view, pressed_.view, kDragStart - 0.001);
}

void SelectTool::begin(const ToolEvent& event) {
  if (pressedId_ && view().canMoveHere(pressedId_)) {
    beginMoving(event);
  } else if (beginJumper()) {
    dragJumper(event);
    repaint();
  } else {
    gesture_ = Gesture::Band;
    repaint();
  }
}

void SelectTool::beginMoving(const ToolEvent& event) {
  Selection& selection = document().selection();
  if (!selection.ids().contains(pressedId_)) {
    if (event.modifiers & Qt::ShiftModifier)
      selection.add(pressedId_);
    else
      selection.set({pressedId_});
  }
  gesture_ = Gesture::Moving;
  stack_.clear();
  copies_ = pressed_.modifiers & Qt::ControlModifier;
  snaps_ = true;
  anchor_ = view().placeHere(pressedId_).value_or(pressed_.scene);
  if (const auto* feature = yard::find<yard::GroundFeature>(document().yard(), pressedId_)) {
    double best = 1e300;  // a ground feature is held by its corner nearest to the hand
    for (const Point& p : feature->outline) {
      const QPointF d = toScene(p) - pressed_.scene;
      if (std::hypot(d.x(), d.y()) < best) best = std::hypot(d.x(), d.y()), anchor_ = toScene(p);
    }
  }
  snapper_ = view().snapper(copies_ ? std::set<Id>{} : selection.ids());
  snapper_.addEqualGaps(anchor_);
  dragMoving(event);
  repaint();
}

edit::Change SelectTool::movedBy(Point by) {
  const std::set<Id> ids = document().selection().ids();
  edit::Editor editor(document().yard());
  if (copies_) {
    edits::duplicate(editor, ids, by, view().plane());
    return editor.finish(edits::stepName("canvas_copy", document().yard(), ids));
  }
  std::set<Id> moving;
  for (const Id id : ids)
    if (view().canMoveHere(id)) moving.insert(id);
  view().addMove(editor, moving, by);
  return editor.finish(edits::stepName("canvas_move", document().yard(), moving));
}

void SelectTool::dragMoving(const ToolEvent& event) {
  QPointF wanted = anchor_ + (event.scene - pressed_.scene);
  if (event.modifiers & Qt::ShiftModifier) {  // along one axis
    const QPointF way = wanted - anchor_;
    wanted = std::abs(way.x()) >= std::abs(way.y()) ? QPointF(wanted.x(), anchor_.y())
                                                    : QPointF(anchor_.x(), wanted.y());
  }
  snapped_ = {wanted, false, Catch::Grid, {}, {}};
  if (snaps_ && !(event.modifiers & Qt::AltModifier))
    snapped_ = snapper_.snap(wanted, kSnapReach / view().scaleNow());
  if (event.modifiers & Qt::ShiftModifier) {
    if (wanted.y() == anchor_.y()) snapped_.at.setY(anchor_.y());
    if (wanted.x() == anchor_.x()) snapped_.at.setX(anchor_.x());
  }
  show(movedBy(pointOf(snapped_.at) - pointOf(anchor_)));
}

void SelectTool::dragTurning(const ToolEvent& event) {
  const Id id = document().selection().single();
  const auto place = view().placeHere(id);
  if (!place) return;
  double heading = headingOf(event.scene - *place);
  heading = event.modifiers & Qt::ShiftModifier ? std::round(heading / 15.0) * 15.0 : std::round(heading);
  if (heading < 0) heading += 360.0;
  if (heading >= 360.0) heading -= 360.0;
  edit::Editor editor(document().yard());
  editor.update<yard::Prop>(id, [&](yard::Prop& p) { p.heading = base::toAngle(heading); });
  editor.update<yard::AudiencePoint>(id, [&](yard::AudiencePoint& a) { a.facing = base::toAngle(heading); });
  show(editor.finish(edits::stepName("canvas_turn", document().yard(), {id})));
}

void SelectTool::dragCorner(const ToolEvent& event) {
  const Id id = document().selection().single();
  const auto* feature = yard::find<yard::GroundFeature>(document().yard(), id);
  if (!feature || corner_ >= static_cast<int>(feature->outline.size()) + (inserting_ ? 1 : 0)) return;
  snapped_ = {event.scene, false, Catch::Grid, {}, {}};
  if (snaps_ && !(event.modifiers & Qt::AltModifier))
    snapped_ = snapper_.snap(event.scene, kSnapReach / view().scaleNow());
  const Point after = pointOf(snapped_.at);
  edit::Editor editor(document().yard());
  if (inserting_) {
    editor.update<yard::GroundFeature>(
        id, [&](yard::GroundFeature& f) { f.outline.insert(f.outline.begin() + corner_, after); });
    change_ = editor.finish(edits::stepName("canvas_reshape", document().yard(), {id}));
    return document().setTentative(change_);
  }
  const Point before = feature->outline[static_cast<std::size_t>(corner_)];
  editor.update<yard::GroundFeature>(
      id, [&](yard::GroundFeature& f) { f.outline[static_cast<std::size_t>(corner_)] = after; });
  for (const auto& [wallId, wall] : yard::all<yard::Wall>(document().yard())) {
    if (wall->feature != id || (wall->from != before && wall->to != before)) continue;
    editor.update<yard::Wall>(wallId, [&](yard::Wall& w) {
      if (w.from == before) w.from = after;
      if (w.to == before) w.to = after;
    });
  }
  change_ = editor.finish(edits::stepName("canvas_reshape", document().yard(), {id}));
  document().setTentative(change_);
}

void SelectTool::release(const ToolEvent& event) {
  const Gesture was = gesture_;
  gesture_ = Gesture::None;
  edit::Change change = std::move(change_);
  change_ = {};
  switch (was) {
    case Gesture::None:
    case Gesture::Stopped:
      break;
    case Gesture::Pressed:
      click(event);
      break;
    case Gesture::Corner:
    case Gesture::Turning:
    case Gesture::Jumper:
    case Gesture::Moving: {
      if (change.empty()) document().clearTentative();
      if (change.empty()) break;
      const std::int64_t firstNew = change.nextIdBefore, nextNew = change.nextIdAfter;
      if (copies_ && was == Gesture::Moving) view().setCopyOffset(pointOf(snapped_.at) - pointOf(anchor_));
      document().commit(std::move(change));
      if (was == Gesture::Jumper) document().selection().set({jumperRun_});
      if (copies_ && was == Gesture::Moving) {
        std::set<Id> copies;
        for (std::int64_t n = firstNew; n < nextNew; ++n)
          if (view().canMoveHere({n})) copies.insert({n});
        document().selection().set(copies);
      }
      break;
    }
    case Gesture::Band: {
      const bool rightward = event.view.x() >= pressed_.view.x();
      const BandRule rule = view().bandRule();
      const bool touched = rule == BandRule::Touched || (rule == BandRule::ByDirection && !rightward);
      last_ = event;
      std::set<Id> ids = view().canvas().idsIn(band(), touched);
      if (event.modifiers & (Qt::ShiftModifier | Qt::ControlModifier))
        ids.insert(document().selection().ids().begin(), document().selection().ids().end());
      document().selection().set(ids);
      break;
    }
  }
  copies_ = false;
  outcome_.clear();
  repaint();
}

void SelectTool::click(const ToolEvent& event) {
  Selection& selection = document().selection();
  if (finding_) {
    const auto report = document().report();
    if (*finding_ < report->findings.size() && !report->findings[*finding_].subjects.empty())
      selection.set({report->findings[*finding_].subjects.front()});
    Q_EMIT view().findingClicked(*finding_);
    return;
  }
  const bool deeper = event.modifiers & Qt::AltModifier;
  const auto ids = view().idsAt(event.scene, deeper);
  if (ids.empty()) {
    stack_.clear();
    if (!(event.modifiers & (Qt::ShiftModifier | Qt::ControlModifier))) selection.clear();
    return;
  }
  if (event.modifiers & Qt::ControlModifier) return selection.toggle(ids.front());
  if (event.modifiers & Qt::ShiftModifier) return selection.add(ids.front());
  Id chosen = ids.front();
  const auto now = std::find(ids.begin(), ids.end(), selection.single());
  const bool again =
      (deeper || (stack_ == ids && near(stackAt_, event.view, kDragStart))) && now != ids.end();
  if (again) chosen = now + 1 == ids.end() ? ids.front() : *(now + 1);
  stack_ = ids;
  stackAt_ = event.view;
  const auto [prop, pixel] = view().pixelAt(event.scene);
  const PropItem* item = view().canvas().prop(prop);
  const bool closeUp = item && item->drawing()->pitch * view().scaleNow() >= 8.0;
  if (prop == chosen && pixel > 0 && closeUp)
    selection.setPixel(prop, pixel);
  else
    selection.set({chosen});
}

void SelectTool::doubleClick(const ToolEvent& event) {
  const auto ids = view().idsAt(event.scene);
  if (ids.empty()) return press(event);
  gesture_ = Gesture::Stopped;
  const auto& chosen = document().selection().ids();
  if (std::none_of(ids.begin(), ids.end(), [&](Id id) { return chosen.contains(id); }))
    document().selection().set({ids.front()});
  Q_EMIT view().editAsked();
}

bool SelectTool::key(QKeyEvent& event) {
  if (gesture_ == Gesture::None || gesture_ == Gesture::Stopped) return false;
  if (event.key() == Qt::Key_R && gesture_ == Gesture::Jumper) {
    turnJumper();
    move(last_);
  }
  if (event.key() == Qt::Key_S && (gesture_ == Gesture::Moving || gesture_ == Gesture::Corner)) {
    snaps_ = !snaps_;
    move(last_);
  }
  return true;  // other keys wait until the gesture is over
}

bool SelectTool::stop() {
  if (gesture_ == Gesture::None || gesture_ == Gesture::Stopped) return false;
  const bool dragged = gesture_ != Gesture::Pressed;
  gesture_ = Gesture::Stopped;
  change_ = {};
  copies_ = false;
  outcome_.clear();
  document().clearTentative();
  repaint();
  return dragged;
}

}  // namespace yw::ui
