#include "ui/canvas/tools/run_tool.h"

#include <QKeyEvent>
#include <QPainter>
#include <algorithm>

#include "core/base/number_text.h"
#include "core/routes/names.h"
#include "core/routes/places.h"
#include "core/yard/labels.h"
#include "ui/canvas/canvas_view.h"
#include "ui/canvas/edits.h"
#include "ui/canvas/tools/outcome.h"

namespace yw::ui {

using base::Id;
using papers::Role;

namespace {
constexpr int kSoon = 60;  // ms the pointer rests before the whole yard is assessed with the step
}

RunTool::RunTool(CanvasView& view, Id run, Id port) : Tool(view), run_(run), port_(port) {
  soon_.setSingleShot(true);
  soon_.setInterval(kSoon);
  connect(&soon_, &QTimer::timeout, this, &RunTool::foresee);
}

QString RunTool::name() const { return said("canvas_tool_run"); }

void RunTool::start() {
  const yard::Yard& yard = document().yard();
  if (!run_ && !port_) {
    const Id chosen = document().selection().single();
    if (yard::find<yard::Run>(yard, chosen)) run_ = chosen;
    if (yard::find<yard::Port>(yard, chosen)) port_ = chosen;
    if (yard::find<yard::Box>(yard, chosen)) startAtBox(chosen);
  }
  if (port_ && !run_) run_ = yard::runOnPort(yard, port_);
  if (const auto* run = yard::find<yard::Run>(yard, run_)) port_ = run->port;
}

QString RunTool::status() const {
  if (!complaint_.isEmpty()) return complaint_;
  if (!run_ && !port_) return said("canvas_status_run_start");
  const yard::Yard& yard = document().yard();
  return said("canvas_status_run", {{"port", yard::labelOf(yard, port_ ? port_ : run_)}});
}

Id RunTool::propAt(QPointF scene) const {
  if (boxAt(scene)) return {};
  for (const Id id : view().idsAt(scene, true))
    if (view().canvas().prop(id)) return id;
  return {};
}

/// The box on top, also where something that hangs on the same wall lies under it.
Id RunTool::boxAt(QPointF scene) const {
  for (const Id id : view().idsAt(scene, true))
    if (yard::find<yard::Box>(document().yard(), id)) return id;
  return {};
}

void RunTool::startAtBox(Id box) {
  const yard::Yard& yard = document().yard();
  port_ = nextFreePort(yard, box);
  run_ = {};
  complaint_ = port_ ? QString() : said("canvas_run_no_port", {{"box", yard::labelOf(yard, box)}});
}

void RunTool::move(const ToolEvent& event) {
  last_ = event;
  const Id prop = propAt(event.scene);
  if (held_ && (event.buttons & Qt::LeftButton)) {
    if (prop && prop != hovered_) sweep(prop);
    return repaint();
  }
  if (prop != hovered_) turned_.reset();
  if (prop != hovered_ || lookedAt_ != document().shownRevision()) {
    hovered_ = prop;
    look();
  }
  repaint();
}

void RunTool::look() {
  step_ = {};
  then_.reset();
  soon_.stop();
  lookedAt_ = document().shownRevision();
  if (!hovered_ || (!run_ && !port_)) return;
  document().settle();
  step_ = nextRunStep(*document().assessment(), run_, port_, hovered_, turned_);
  if (!step_.change.empty()) soon_.start();
}

void RunTool::foresee() {
  if (step_.change.empty() || lookedAt_ != document().shownRevision()) return;
  document().settle();
  then_ = assess::assess(edit::apply(document().yard(), step_.change), document().assessment());
  repaint();
}

void RunTool::press(const ToolEvent& event) {
  held_ = false;
  move(event);
  complaint_.clear();
  held_ = true;
  // A box always begins a new run, also while another is pulled on.
  if (const Id box = boxAt(event.scene)) {
    startAtBox(box);
    statusChanged();
    return repaint();
  }
  const Id prop = hovered_;
  if (!prop) return;
  document().settle();
  const RunStep step = nextRunStep(*document().assessment(), run_, port_, prop, turned_);
  if (step.change.empty()) {
    complaint_ = QString::fromStdString(base::text(step.refusal, view().units()));
    statusChanged();
    return repaint();
  }
  run_ = step.run;
  turned_.reset();
  document().commit(step.change);
  positions_.push_back(document().history().position());
  document().selection().set({run_});
  if (step.leftOver > 0)
    complaint_ = said(
        "canvas_run_cut",
        {{"pixel", step.after()}, {"left", step.leftOver}, {"prop", yard::labelOf(document().yard(), prop)}});
  look();
  statusChanged();
  repaint();
}

void RunTool::sweep(Id prop) {
  hovered_ = prop;
  then_.reset();
  soon_.stop();
  if (!run_ && !port_) return;
  document().settle();
  if (swept_.empty()) before_ = document().assessment();
  const auto now = document().assessment();
  const RunStep step = nextRunStep(*now, swept_.empty() ? run_ : sweptRun_, port_, prop);
  complaint_ =
      step.change.empty() ? QString::fromStdString(base::text(step.refusal, view().units())) : QString();
  statusChanged();
  if (step.change.empty()) return;
  swept_.push_back(prop);
  sweptRun_ = step.run;
  // One change from the yard as it is: only the run differs.
  const yard::Yard then = edit::apply(now->yard, step.change);
  const yard::Run& run = *yard::find<yard::Run>(then, sweptRun_);
  edit::Editor editor(document().yard());
  if (yard::find<yard::Run>(document().yard(), sweptRun_))
    editor.replace(sweptRun_, run);
  else
    editor.add(run);
  const std::string to = yard::labelOf(then, run.port ? run.port : sweptRun_);
  const std::string what = edits::called(then, {swept_.begin(), swept_.end()});
  sweptChange_ = editor.finish(said("canvas_run_add", {{"prop", what}, {"port", to}}).toStdString());
  document().setTentative(sweptChange_);
}

void RunTool::release(const ToolEvent&) {
  held_ = false;
  if (swept_.empty()) return;
  swept_.clear();
  run_ = sweptRun_;
  turned_.reset();
  document().commit(std::move(sweptChange_));
  sweptChange_ = {};
  positions_.push_back(document().history().position());
  document().selection().set({run_});
  look();
  statusChanged();
  repaint();
}

bool RunTool::stop() {
  held_ = false;
  if (swept_.empty()) return false;
  swept_.clear();
  sweptChange_ = {};
  complaint_.clear();
  document().clearTentative();
  look();
  statusChanged();
  repaint();
  return true;
}

bool RunTool::key(QKeyEvent& event) {
  if (!swept_.empty()) return true;  // other keys wait until the hand lets go
  switch (event.key()) {
    case Qt::Key_Return:
    case Qt::Key_Enter:
      leave();
      return true;
    case Qt::Key_Backspace:
      takeBack();
      return true;
    case Qt::Key_R:
      if (!hovered_) return false;
      turned_ = !(turned_ ? *turned_ : step_.reversed);
      look();
      repaint();
      return true;
    default:
      return false;
  }
}

/// Undoes the last step of this tool if nothing else was done since; else takes the run's last item off it.
void RunTool::takeBack() {
  complaint_.clear();
  if (!positions_.empty() && positions_.back() == document().history().position()) {
    positions_.pop_back();
    document().undo();
  } else if (const auto* run = yard::find<yard::Run>(document().yard(), run_); run && !run->items.empty()) {
    const std::string what =
        run->items.back().prop ? yard::labelOf(document().yard(), run->items.back().prop) : std::string();
    edit::Editor editor(document().yard());
    editor.update<yard::Run>(run_, [](yard::Run& r) { r.items.pop_back(); });
    document().commit(
        editor.finish(said("canvas_run_take",
                           {{"prop", what}, {"port", yard::labelOf(document().yard(), port_ ? port_ : run_)}})
                          .toStdString()));
  }
  look();
  statusChanged();
  repaint();
}

void RunTool::historyMoved() {
  if (!swept_.empty()) stop();
}

void RunTool::yardChanged() {
  if (swept_.empty() && lookedAt_ != document().shownRevision()) {  // looked at again on the next move
    soon_.stop();
    step_ = {};
    then_.reset();
  }
  if (run_ && !yard::find<yard::Run>(document().shownYard(), run_)) run_ = {};
  if (port_ && !yard::find<yard::Port>(document().shownYard(), port_)) port_ = {};
}

QStringList RunTool::note() const {
  if (!swept_.empty()) {
    QStringList lines{QString::fromStdString(sweptChange_.name)};
    std::set<Id> things(swept_.begin(), swept_.end());
    things.insert(sweptRun_);
    if (!document().stale())
      lines += outcomeLines(*document().assessment(), before_.get(), things, view().units());
    if (!complaint_.isEmpty()) lines << complaint_;
    return lines;
  }
  if (!hovered_ || (!run_ && !port_)) return {};
  if (step_.change.empty() && step_.refusal.key.empty()) return {};
  if (const auto* run = yard::find<yard::Run>(document().yard(), run_);
      step_.change.empty() && run && !run->items.empty() && run->items.back().prop == hovered_)
    return {};  // just added: nothing to complain of
  if (step_.change.empty()) return {QString::fromStdString(base::text(step_.refusal, view().units()))};
  const yard::Yard& yard = document().yard();
  QStringList lines;
  lines << said(
      "canvas_run_note_add",
      {{"prop", yard::labelOf(yard, hovered_)}, {"first", step_.range.first}, {"last", step_.range.last}});
  const std::string port = yard::labelOf(yard, port_ ? port_ : run_);
  if (step_.limit > 0)
    lines << said("canvas_run_note_count",
                  {{"after", step_.after()}, {"limit", step_.limit}, {"port", port}});
  if (step_.leftOver > 0)
    lines << said("canvas_run_note_full", {{"pixel", step_.after()}, {"left", step_.leftOver}});
  return lines + outcome();
}

/// What the engine says of the yard with the step made.
QStringList RunTool::outcome() const {
  QStringList lines;
  if (!then_) return lines;
  const auto data = then_->data.runs.find(step_.run);
  if (data != then_->data.runs.end())
    for (const data::Hop& hop : data->second.hops) {
      if (hop.item != step_.item) continue;
      lines << said(hop.length > hop.limit ? "canvas_run_note_far" : "canvas_run_note_lead",
                    {{"lead", base::longLengthText(base::toLength({hop.length}), view().units())},
                     {"reach", base::longLengthText(base::toLength({hop.limit}), view().units())}});
    }
  const auto figure = then_->limit.runs.find(step_.run);
  if (figure != then_->limit.runs.end() && figure->second.lowestPixel > 0)
    lines << said("canvas_run_note_volts", {{"volts", base::toVoltage({figure->second.lowestVolts})},
                                            {"amps", base::toCurrent({figure->second.totalAmps})}});
  return lines;
}

void RunTool::paint(QPainter& painter) {
  if (swept_.empty() && hovered_ && !step_.change.empty()) {
    const auto& a = document().assessment();
    const PropItem* prop = view().canvas().prop(hovered_);
    const QColor accent = view().look().color(Role::Accent);
    QPolygonF way;
    if (then_) {
      const auto role = step_.item == 0 ? routes::CableRole::Lead : routes::CableRole::Jumper;
      for (const auto& [key, cable] : then_->routes.cables)
        if (key.of == step_.run && key.item == step_.item &&
            (key.role == role || key.role == routes::CableRole::Lead ||
             key.role == routes::CableRole::Jumper))
          for (const QPointF p : planLine(cable)) way << view().toView(p);
    }
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(accent, 2.2));
    if (way.size() > 1) painter.drawPolyline(way);
    if (prop && a) {
      painter.setPen(QPen(accent, 1.5));
      const QPointF in =
          view().toView(prop->pixelPlace(step_.reversed ? step_.range.last : step_.range.first));
      const QPointF out =
          view().toView(prop->pixelPlace(step_.reversed ? step_.range.first : step_.range.last));
      painter.setBrush(accent);
      painter.drawEllipse(in, 5, 5);
      painter.setBrush(view().look().color(Role::Paper));
      painter.drawEllipse(out, 5, 5);
    }
  }
  paintNote(painter, view(), QPointF(last_.view), note());
}

}  // namespace yw::ui
