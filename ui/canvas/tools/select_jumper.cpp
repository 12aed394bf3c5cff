// Dragging a lead or jumper onto another prop, and what the engine says while anything wired is dragged.
#include <algorithm>

#include "core/yard/labels.h"
#include "ui/canvas/canvas_view.h"
#include "ui/canvas/tools/jumper_step.h"
#include "ui/canvas/tools/outcome.h"
#include "ui/canvas/tools/select_tool.h"

namespace yw::ui {

using base::Id;

void SelectTool::show(edit::Change change) {
  change_ = std::move(change);
  document().setTentative(change_);
  tellOutcome();
}

void SelectTool::yardChanged() {
  if (gesture_ != Gesture::Moving && gesture_ != Gesture::Turning && gesture_ != Gesture::Jumper) return;
  tellOutcome();
  repaint();
}

/// The figures of what is shown; while newer ones are worked out, those of a moment ago.
void SelectTool::tellOutcome() {
  if (change_.empty() || copies_) return outcome_.clear();
  if (document().stale() && document().assessment() == before_) return;
  std::set<Id> things = document().selection().ids();
  if (gesture_ == Gesture::Jumper) things = {jumperRun_, jumperProp_};
  outcome_ = outcomeLines(*document().assessment(), before_.get(), things, view().units());
}

const CableItem* SelectTool::jumperAt(QPointF scene) const {
  for (const auto& [key, cable] : view().canvas().cables()) {
    const bool data = key.role == routes::CableRole::Lead || key.role == routes::CableRole::Jumper;
    if (data && cable->isVisible() && cable->hit(scene, view().reach())) return cable;
  }
  return nullptr;
}

/// True if the hand took hold of a lead or jumper.
bool SelectTool::beginJumper() {
  const auto ids = view().idsAt(pressed_.scene);
  if (ids.empty() || yard::find<yard::Prop>(document().yard(), ids.front())) return false;
  const CableItem* cable = jumperAt(pressed_.scene);
  if (!cable || !yard::find<yard::Run>(document().yard(), cable->key().of)) return false;
  gesture_ = Gesture::Jumper;
  jumperRun_ = cable->key().of;
  jumperItem_ = cable->key().item;
  jumperLine_ = cable->line();
  jumperProp_ = {};
  jumperTurned_.reset();
  stack_.clear();
  return true;
}

void SelectTool::dragJumper(const ToolEvent& event) {
  Id over;
  for (const Id id : view().idsAt(event.scene, true))
    if (!over && view().canvas().prop(id)) over = id;
  if (over == jumperProp_) return;
  jumperProp_ = over;
  jumperTurned_.reset();
  tryJumper();
}

void SelectTool::turnJumper() {
  if (change_.empty()) return;
  jumperTurned_ = !(jumperTurned_.value_or(jumperReversed_));
  tryJumper();
}

void SelectTool::tryJumper() {
  change_ = {};
  outcome_.clear();
  refusal_.clear();
  document().clearTentative();
  if (!jumperProp_) return;
  document().settle();
  const JumperStep step =
      pullThrough(*document().assessment(), jumperRun_, jumperItem_, jumperProp_, jumperTurned_);
  jumperReversed_ = step.reversed;
  if (step.change.empty())
    refusal_ = QString::fromStdString(base::text(step.refusal, view().units()));
  else
    show(step.change);
}

}  // namespace yw::ui
