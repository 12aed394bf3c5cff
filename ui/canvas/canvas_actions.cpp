// What menus and keys do to the yard: each one step, named.
#include <QClipboard>
#include <QCursor>
#include <QGuiApplication>
#include <QMenu>
#include <QMimeData>
#include <QScrollBar>
#include <algorithm>
#include <string>

#include "ui/canvas/canvas_view.h"
#include "ui/canvas/clipboard.h"
#include "ui/canvas/edits.h"
#include "ui/canvas/tools/feed_tool.h"
#include "ui/canvas/tools/jumper_step.h"
#include "ui/canvas/tools/measure_tool.h"
#include "ui/canvas/tools/outcome.h"
#include "ui/canvas/tools/repeat_tool.h"
#include "ui/canvas/tools/run_tool.h"
#include "ui/canvas/tools/select_tool.h"
#include "ui/canvas/tools/tape_tool.h"
#include "ui/fields/pick_fields.h"

namespace yw::ui {

using base::Id;
using base::Point;
using yard::RecordKind;

void CanvasView::setTool(std::unique_ptr<Tool> tool) {
  tool_->stop();
  viewport()->update();
  selecting_ = tool == nullptr;
  if (!tool) tool = selectTool();
  Tool* old = tool_.release();  // it may be the one that asks
  old->setParent(this);         // never outlives the view it knows
  old->deleteLater();
  tool_ = std::move(tool);
  viewport()->setCursor(tool_->cursor());
  tool_->start();
  Q_EMIT toolChanged(selecting_ ? QString() : tool_->name());
  Q_EMIT statusChanged(tool_->status());
}

bool CanvasView::canPlaceByTapes() const {
  const Id one = document_.selection().single();
  return selecting_ ? one && canMoveHere(one) && placeHere(one) : tool_->takesPlaces();
}

void CanvasView::placeByTapes() {
  if (!canPlaceByTapes()) return;
  if (selecting_) return setTool(std::make_unique<TapeTool>(*this, nullptr));
  auto below = std::move(tool_);
  backToTool(std::make_unique<TapeTool>(*this, std::move(below)), true);
}

void CanvasView::backToTool(std::unique_ptr<Tool> tool, bool begins) {
  viewport()->update();
  if (Tool* old = tool_.release()) {  // it is the one that asks
    old->setParent(this);             // never outlives the view it knows
    old->deleteLater();
  }
  tool_ = std::move(tool);
  viewport()->setCursor(tool_->cursor());
  if (begins) tool_->start();
  Q_EMIT toolChanged(tool_->name());
  Q_EMIT statusChanged(tool_->status());
}

std::unique_ptr<Tool> CanvasView::selectTool() { return std::make_unique<SelectTool>(*this); }

void CanvasView::pullRun() { setTool(std::make_unique<RunTool>(*this)); }
void CanvasView::startRun(Id port) { setTool(std::make_unique<RunTool>(*this, Id{}, port)); }
void CanvasView::addFeed() { setTool(std::make_unique<FeedTool>(*this)); }
void CanvasView::repeatSelected(RepeatKind kind) { setTool(std::make_unique<RepeatTool>(*this, kind)); }
void CanvasView::measure() { setTool(std::make_unique<MeasureTool>(*this)); }

namespace {

/// Kinds that Delete on a drawing takes away; products, wires, settings stay.
bool canRemove(const yard::Yard& yard, Id id) {
  const auto it = yard.records.find(id);
  if (it == yard.records.end()) return false;
  switch (yard::kindOf(*it->second)) {
    case RecordKind::Settings:
    case RecordKind::Site:
    case RecordKind::Product:
    case RecordKind::Wire:
      return false;
    default:
      return true;
  }
}

}  // namespace

void CanvasView::removeSelected() {
  if (removeHere()) return;
  const yard::Yard& yard = document_.yard();
  std::set<Id> ids;
  for (const Id id : document_.selection().ids())
    if (canRemove(yard, id)) ids.insert(id);
  if (ids.empty()) return;
  const std::string name = edits::stepName("canvas_delete", yard, ids);
  edit::Editor editor(yard);
  for (const auto& [id, wall] : yard::all<yard::Wall>(yard))
    if (ids.contains(wall->feature)) editor.remove(id);
  for (const Id id : ids)
    if (editor.yard().records.contains(id)) editor.remove(id);
  document_.selection().clear();
  document_.commit(editor.finish(name));
}

void CanvasView::duplicateSelected() {
  const yard::Yard& yard = document_.yard();
  const std::set<Id> ids = document_.selection().ids();
  edit::Editor editor(yard);
  const std::set<Id> copies = edits::duplicate(editor, ids, copyOffset_, plane());
  if (copies.empty()) return;
  document_.commit(editor.finish(edits::stepName("canvas_duplicate", yard, ids)));
  document_.selection().set(copies);
}

void CanvasView::copySelected() {
  const QByteArray records = encodeRecords(document_.yard(), document_.selection().ids());
  if (records.isEmpty()) return;
  auto* data = new QMimeData;  // the clipboard takes it
  data->setData(QLatin1String(kRecordsMime), records);
  data->setText(QString::fromStdString(edits::called(document_.yard(), document_.selection().ids())));
  QGuiApplication::clipboard()->setMimeData(data);
}

void CanvasView::cutSelected() {
  copySelected();
  removeSelected();
}

void CanvasView::paste() {
  const QPoint pointer = viewport()->mapFromGlobal(QCursor::pos());
  const bool over = viewport()->rect().contains(pointer) && underMouse();
  pasteAt(toSceneExact(over ? QPointF(pointer) : QRectF(viewport()->rect()).center()));
}

void CanvasView::pasteAt(QPointF scene) {
  const QMimeData* data = QGuiApplication::clipboard()->mimeData();
  if (!data || !data->hasFormat(QLatin1String(kRecordsMime))) return;
  edit::Editor editor(document_.yard());
  const auto pasted = pasteRecords(editor, data->data(QLatin1String(kRecordsMime)), pointOf(scene));
  if (!pasted) return;
  document_.commit(editor.finish(edits::stepName("canvas_paste", editor.yard(), pasted->ids)));
  document_.selection().set(pasted->ids);
  revealSelection();  // what hangs on a wall stays on it, wherever that is
}

void CanvasView::turnSelected(base::Angle by) {
  const yard::Yard& yard = document_.yard();
  std::set<Id> ids;
  for (const Id id : document_.selection().ids())
    if (canTurnHere(id)) ids.insert(id);
  if (ids.empty()) return;
  edit::Editor editor(yard);
  edits::turn(editor, ids, by);
  document_.commit(editor.finish(edits::stepName("canvas_turn", yard, ids)));
}

void CanvasView::holdSelected(bool hold) {
  std::set<Id> ids;
  for (const Id id : document_.selection().ids())
    if (const auto* prop = yard::find<yard::Prop>(document_.yard(), id); prop && prop->locked != hold)
      ids.insert(id);
  if (ids.empty()) return;
  edit::Editor editor(document_.yard());
  for (const Id id : ids) editor.update<yard::Prop>(id, [&](yard::Prop& p) { p.locked = hold; });
  document_.commit(
      editor.finish(edits::stepName(hold ? "canvas_hold" : "canvas_let_go", document_.yard(), ids)));
}

void CanvasView::turnRoundSelected() {
  edit::Editor editor(document_.yard());
  const auto before = document_.stale() ? nullptr : document_.assessment();
  const std::set<Id> ids = turnRound(editor, document_.selection().ids());
  if (ids.empty()) return Q_EMIT statusChanged(said("canvas_turn_round_none"));
  document_.commit(editor.finish(edits::stepName("canvas_turn_round", document_.yard(), ids)));
  if (document_.stale()) return;
  const QStringList lines = outcomeLines(*document_.assessment(), before.get(), ids, units());
  Q_EMIT statusChanged(lines.join(QStringLiteral(" · ")));
}

void CanvasView::nudge(int x, int y, Qt::KeyboardModifiers modifiers, bool repeated) {
  base::Length step = nudgeStep_;
  if (!step) step = units() == base::UnitSystem::Metric ? base::millimetres(20) : base::inches(1);
  if (modifiers & Qt::ShiftModifier) step = step * 10;
  if (modifiers & Qt::AltModifier) step = base::toLength({1e-3 / look_.scale});
  if (!repeated) ++nudges_;
  const std::string key = "nudge " + std::to_string(nudges_);
  const Point by{step * x, step * y};
  if (selecting_ && nudgeHere(by, key)) return;
  std::set<Id> ids;
  if (selecting_)
    for (const Id id : document_.selection().ids())
      if (canMoveHere(id)) ids.insert(id);
  if (ids.empty()) {
    constexpr int kPan = 40;
    horizontalScrollBar()->setValue(horizontalScrollBar()->value() + kPan * x);
    verticalScrollBar()->setValue(verticalScrollBar()->value() - kPan * y);
    return;
  }
  edit::Editor editor(document_.yard());
  addMove(editor, ids, by);
  document_.commit(editor.finish(edits::stepName("canvas_move", document_.yard(), ids)), key);
}

void CanvasView::walk(int by) {
  std::vector<Id> props;
  for (const auto& [id, name] : namedRecords(document_.shownYard(), {RecordKind::Prop}))
    if (const PropItem* item = canvas_->prop(id); item && item->isVisible()) props.push_back(id);
  if (props.empty()) return;
  const auto count = static_cast<int>(props.size());
  const auto now = std::find(props.begin(), props.end(), document_.selection().single());
  int next = by > 0 ? 0 : count - 1;
  if (now != props.end()) next = (static_cast<int>(now - props.begin()) + by + count) % count;
  document_.selection().set({props[static_cast<std::size_t>(next)]});
  revealSelection();
}

void CanvasView::selectAll() {
  std::set<Id> ids;
  for (const auto& [id, item] : canvas_->records())
    if (item->isVisible() && !item->heldStill() && canMoveHere(id)) ids.insert(id);
  document_.selection().set(ids);
}

void CanvasView::buildMenu(QMenu& menu) {
  const auto add = [&](const char* key, auto act, const char* objectName) {
    QAction* action = menu.addAction(said(key), this, act);
    action->setObjectName(QLatin1String(objectName));
    return action;
  };
  const std::set<Id>& ids = document_.selection().ids();
  const Id one = document_.selection().single();
  if (yard::find<yard::Box>(document_.yard(), one) || yard::find<yard::Run>(document_.yard(), one))
    add(
        "canvas_menu_run", [this] { pullRun(); }, "menuRun");
  if (yard::find<yard::Prop>(document_.yard(), one))
    add(
        "canvas_menu_feed", [this] { addFeed(); }, "menuFeed");
  if (!ids.empty()) {
    add(
        "canvas_menu_edit", [this] { Q_EMIT editAsked(); }, "menuEdit");
    add(
        "canvas_menu_copy", [this] { copySelected(); }, "menuCopy");
    if (canPlaceByTapes())
      add(
          "canvas_menu_tapes", [this] { placeByTapes(); }, "menuTapes");
    add(
        "canvas_menu_duplicate", [this] { duplicateSelected(); }, "menuDuplicate");
    if (std::any_of(ids.begin(), ids.end(), [&](Id id) { return canMoveHere(id); })) {
      QMenu* repeat = menu.addMenu(said("canvas_menu_repeat"));
      const char* keys[] = {"canvas_menu_repeat_line", "canvas_menu_repeat_grid", "canvas_menu_repeat_circle",
                            "canvas_menu_repeat_mirror", "canvas_menu_repeat_path"};
      for (int i = 0; i < 5; ++i)
        repeat->addAction(said(keys[i]), this, [this, i] { repeatSelected(static_cast<RepeatKind>(i)); })
            ->setObjectName(QStringLiteral("menuRepeat%1").arg(i));
    }
    if (std::any_of(ids.begin(), ids.end(), [&](Id id) { return canTurnHere(id); }))
      add(
          "canvas_menu_turn", [this] { turnSelected(base::toAngle(15.0)); }, "menuTurn");
    const auto isProp = [&](Id id) { return yard::find<yard::Prop>(document_.yard(), id); };
    const auto isHeld = [&](Id id) { return isProp(id) && isProp(id)->locked; };
    if (const auto& a = document_.assessment();
        a && std::any_of(ids.begin(), ids.end(), [&](Id id) { return a->wiredIn.contains(id); }))
      add(
          "canvas_menu_turn_round", [this] { turnRoundSelected(); }, "menuTurnRound");
    if (std::any_of(ids.begin(), ids.end(), [&](Id id) { return isProp(id) && !isHeld(id); }))
      add(
          "canvas_menu_hold", [this] { holdSelected(true); }, "menuHold");
    if (std::any_of(ids.begin(), ids.end(), isHeld))
      add(
          "canvas_menu_let_go", [this] { holdSelected(false); }, "menuLetGo");
    add(
        "canvas_menu_delete", [this] { removeSelected(); }, "menuDelete");
    menu.addSeparator();
    add(
        "canvas_menu_fit_selection", [this] { fitSelection(); }, "menuFitSelection");
  }
  const QMimeData* held = QGuiApplication::clipboard()->mimeData();
  if (held && held->hasFormat(QLatin1String(kRecordsMime)))
    add(
        "canvas_menu_paste", [this] { pasteAt(menuScene_); }, "menuPaste");
  add(
      "canvas_menu_fit_all", [this] { fitAll(); }, "menuFitAll");
}

}  // namespace yw::ui
