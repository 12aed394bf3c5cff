#include "ui/canvas/accessible.h"

#include <QAccessible>
#include <QAccessibleWidget>
#include <QPointer>
#include <algorithm>
#include <map>

#include "core/yard/labels.h"
#include "ui/canvas/canvas_view.h"
#include "ui/fields/pick_fields.h"

namespace yw::ui {

using base::Id;
using yard::RecordKind;

namespace {

/// What a view offers one by one, in reading order: props, then boxes, outlets and the rest of the gear.
std::vector<Id> things(const CanvasView& view) {
  std::vector<Id> ids;
  for (const auto& kinds : {std::vector<RecordKind>{RecordKind::Prop},
                            std::vector<RecordKind>{RecordKind::Box, RecordKind::Outlet,
                                                    RecordKind::OtherLoad, RecordKind::AudiencePoint}})
    for (const auto& [id, name] : namedRecords(view.document().shownYard(), kinds))
      if (const CanvasItem* item = view.canvas().item(id); item && item->isVisible()) ids.push_back(id);
  return ids;
}

QRect globalRect(const CanvasView& view, Id id) {
  const CanvasItem* item = view.canvas().item(id);
  if (!item) return {};
  QRect seen = view.viewportTransform().mapRect(item->extent()).toAlignedRect();
  constexpr int kLeast = 24;  // a target no smaller than WCAG 2.2, 2.5.8 asks of any
  if (seen.width() < kLeast) seen.adjust(-(kLeast - seen.width()) / 2, 0, (kLeast - seen.width()) / 2, 0);
  if (seen.height() < kLeast) seen.adjust(0, -(kLeast - seen.height()) / 2, 0, (kLeast - seen.height()) / 2);
  return QRect(view.viewport()->mapToGlobal(seen.topLeft()), seen.size());
}

QString described(const CanvasView& view, Id id) {
  const auto& a = view.document().assessment();
  if (!a) return {};
  const auto shape = a->shapes.find(id);
  if (shape == a->shapes.end()) return {};
  const auto count = static_cast<std::int64_t>(shape->second->pixels.size());
  const auto wired = a->wiredIn.find(id);
  if (wired == a->wiredIn.end() || wired->second.empty()) return said("canvas_heard_unwired", {{"n", count}});
  return said("canvas_heard_wired",
              {{"n", count}, {"run", yard::labelOf(a->yard, wired->second.front().first)}});
}

class ThingInterface : public QAccessibleInterface {
 public:
  ThingInterface(CanvasView& view, Id id) : view_(&view), id_(id) {}
  bool isValid() const override { return view_ && view_->canvas().item(id_); }
  QObject* object() const override { return nullptr; }
  QAccessibleInterface* parent() const override { return QAccessible::queryAccessibleInterface(view_); }
  QAccessibleInterface* child(int) const override { return nullptr; }
  QAccessibleInterface* childAt(int, int) const override { return nullptr; }
  int childCount() const override { return 0; }
  int indexOfChild(const QAccessibleInterface*) const override { return -1; }
  QRect rect() const override { return isValid() ? globalRect(*view_, id_) : QRect(); }
  QAccessible::Role role() const override { return QAccessible::Graphic; }
  void setText(QAccessible::Text, const QString&) override {}

  QString text(QAccessible::Text which) const override {
    if (!isValid()) return {};
    if (which == QAccessible::Name)
      return QString::fromStdString(yard::labelOf(view_->document().shownYard(), id_));
    return which == QAccessible::Description ? described(*view_, id_) : QString();
  }

  QAccessible::State state() const override {
    QAccessible::State state;
    if (!isValid()) {
      state.invalid = true;
      return state;
    }
    state.selectable = state.focusable = true;
    state.selected = view_->document().selection().ids().contains(id_);
    state.focused = state.selected && view_->hasFocus();
    state.offscreen =
        !rect().intersects(QRect(view_->viewport()->mapToGlobal(QPoint()), view_->viewport()->size()));
    return state;
  }

 private:
  QPointer<CanvasView> view_;
  Id id_;
};

class ViewInterface : public QAccessibleWidget {
 public:
  explicit ViewInterface(CanvasView& view) : QAccessibleWidget(&view, QAccessible::Canvas), view_(view) {}
  ~ViewInterface() override {
    for (const auto& [id, known] : known_) QAccessible::deleteAccessibleInterface(known);
  }

  int childCount() const override { return static_cast<int>(things(view_).size()); }
  QAccessibleInterface* child(int index) const override {
    const auto ids = things(view_);
    if (index < 0 || index >= static_cast<int>(ids.size())) return nullptr;
    return thing(ids[static_cast<std::size_t>(index)]);
  }
  int indexOfChild(const QAccessibleInterface* child) const override {
    const auto ids = things(view_);
    for (std::size_t i = 0; i < ids.size(); ++i)
      if (thing(ids[i]) == child) return static_cast<int>(i);
    return -1;
  }
  QAccessibleInterface* childAt(int x, int y) const override {
    const QPoint at = view_.viewport()->mapFromGlobal(QPoint(x, y));
    const auto ids = things(view_);
    for (const Id id : view_.idsAt(view_.toSceneExact(at), true))
      if (std::find(ids.begin(), ids.end(), id) != ids.end()) return thing(id);
    return nullptr;
  }
  QAccessibleInterface* focusChild() const override {
    const Id id = view_.document().selection().single();
    return view_.hasFocus() && view_.canvas().item(id) ? thing(id) : nullptr;
  }
  QAccessibleInterface* thing(Id id) const {
    const auto it = known_.find(id);
    if (it != known_.end()) return QAccessible::accessibleInterface(it->second);
    auto* made = new ThingInterface(view_, id);
    known_[id] = QAccessible::registerAccessibleInterface(made);
    return made;
  }

 private:
  CanvasView& view_;
  mutable std::map<Id, QAccessible::Id> known_;
};

QAccessibleInterface* interfaceOf(const QString&, QObject* object) {
  auto* view = qobject_cast<CanvasView*>(object);
  return view ? new ViewInterface(*view) : nullptr;
}

}  // namespace

void installCanvasAccessibility() {
  static const bool once = [] {
    QAccessible::installFactory(interfaceOf);
    return true;
  }();
  static_cast<void>(once);
}

void announceSelection(CanvasView& view) {
  if (!QAccessible::isActive() || !view.hasFocus()) return;
  const Id id = view.document().selection().single();
  if (!view.canvas().item(id)) return;
  auto* own = static_cast<ViewInterface*>(QAccessible::queryAccessibleInterface(&view));
  if (!own) return;
  QAccessibleEvent event(own->thing(id), QAccessible::Focus);
  QAccessible::updateAccessibility(&event);
}

}  // namespace yw::ui
