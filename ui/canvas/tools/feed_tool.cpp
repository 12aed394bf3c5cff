#include "ui/canvas/tools/feed_tool.h"

#include <QPainter>

#include "core/yard/labels.h"
#include "ui/canvas/canvas_view.h"
#include "ui/canvas/tools/outcome.h"

namespace yw::ui {

using base::Id;
using papers::Role;

std::pair<Id, std::int64_t> runPlaceOf(const assess::Assessment& a, Id prop, std::int64_t pixel) {
  const auto wired = a.wiredIn.find(prop);
  if (wired == a.wiredIn.end()) return {};
  for (const auto& [run, item] : wired->second) {
    const auto layout = a.layouts.find(run);
    if (layout == a.layouts.end()) continue;
    const auto& pixels = layout->second->pixels;
    for (std::size_t i = 0; i < pixels.size(); ++i)
      if (pixels[i].prop == prop && pixels[i].pixel == pixel) return {run, static_cast<std::int64_t>(i) + 1};
  }
  return {};
}

FeedTool::FeedTool(CanvasView& view) : Tool(view) {
  soon_.setSingleShot(true);
  soon_.setInterval(30);
  connect(&soon_, &QTimer::timeout, this, [this] {
    propose();
    repaint();
  });
}

QString FeedTool::name() const { return said("canvas_tool_feed"); }
QString FeedTool::status() const { return said("canvas_status_feed"); }

void FeedTool::move(const ToolEvent& event) {
  last_ = event;
  const auto [prop, pixel] = view().pixelAt(event.scene);
  if (prop != prop_ || pixel != pixel_) {
    prop_ = prop;
    pixel_ = pixel;
    proposal_.reset();
    run_ = {};
    if (prop_ && document().assessment())
      std::tie(run_, place_) = runPlaceOf(*document().assessment(), prop_, pixel_);
    if (run_) soon_.start();
  }
  repaint();
}

void FeedTool::propose() {
  soon_.stop();
  proposal_.reset();
  outcome_.clear();
  proposedAt_ = document().shownRevision();
  if (!prop_ || pixel_ == 0) return;
  document().settle();
  std::tie(run_, place_) = runPlaceOf(*document().assessment(), prop_, pixel_);
  if (!run_) return;
  const auto now = document().assessment();
  proposal_ = propose::feedAt(now, run_, place_);
  if (!proposal_) return;
  const auto then = assess::assess(edit::apply(document().yard(), proposal_->change), now);
  outcome_ = voltsLines(*then, now.get(), {run_}, view().units()) +
             newlyWrongLines(findings::report(*then), *document().report(), view().units());
}

void FeedTool::press(const ToolEvent& event) {
  move(event);
  propose();
  if (!proposal_) return repaint();
  const edit::Change change = proposal_->change;
  proposal_.reset();
  Id feed;
  for (const auto& replacement : change.replacements)
    if (!replacement.before && replacement.after && std::holds_alternative<yard::Cable>(*replacement.after))
      feed = replacement.id;
  document().commit(change);
  if (feed) document().selection().set({feed});
  repaint();
}

void FeedTool::yardChanged() {
  if (proposedAt_ == document().shownRevision()) return;  // only its figures are newer
  proposal_.reset();
  outcome_.clear();
  if (prop_ && pixel_ > 0) soon_.start();
}

QStringList FeedTool::note() const {
  if (!prop_ || pixel_ == 0) return {};
  if (proposal_)
    return QStringList{QString::fromStdString(base::text(proposal_->sentence, view().units()))} + outcome_;
  const std::string label = yard::labelOf(document().shownYard(), prop_);
  if (!run_) return {said("canvas_feed_unwired", {{"prop", label}, {"pixel", pixel_}})};
  if (soon_.isActive()) return {said("canvas_feed_pixel", {{"prop", label}, {"pixel", pixel_}})};
  return {said("canvas_feed_none", {{"prop", label}, {"pixel", pixel_}})};
}

void FeedTool::paint(QPainter& painter) {
  if (const PropItem* prop = view().canvas().prop(prop_); prop && pixel_ > 0) {
    painter.setPen(QPen(view().look().color(Role::Accent), 2));
    painter.setBrush(Qt::NoBrush);
    painter.drawEllipse(view().toView(prop->pixelPlace(pixel_)), 7, 7);
  }
  paintNote(painter, view(), QPointF(last_.view), note());
}

}  // namespace yw::ui
