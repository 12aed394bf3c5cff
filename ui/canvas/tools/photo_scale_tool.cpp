#include "ui/canvas/tools/photo_scale_tool.h"

#include <QKeyEvent>
#include <QPainter>
#include <cmath>

#include "ui/canvas/canvas_view.h"
#include "ui/canvas/items/photo_item.h"

namespace yw::ui {

using papers::Role;

namespace {

/// Times by which the picture of a Site or a Wall grows about `from`.
template <class R>
double growPhoto(R& record, base::Point from, base::Point to, base::Length distance) {
  const double drawn = base::distance(base::vec(from), base::vec(to));
  if (drawn <= 0) return 1.0;
  const double factor = base::metres(distance).si / drawn;
  record.photoAt = from + base::point((base::vec(record.photoAt) - base::vec(from)) * factor);
  record.photoWidth = base::toLength(base::metres(shownPhotoWidth(record.photoWidth)) * factor);
  return factor;
}

}  // namespace

yard::Site scaledPhoto(const yard::Site& site, base::Point from, base::Point to, base::Length distance) {
  yard::Site scaled = site;
  if (from == to) return scaled;
  const double factor = growPhoto(scaled, from, to, distance);
  scaled.scaleFrom = from;
  scaled.scaleTo = from + base::point((base::vec(to) - base::vec(from)) * factor);
  scaled.scaleDistance = distance;
  scaled.checkFrom = scaled.checkTo = {};
  scaled.checkDistance = {};
  return scaled;
}

yard::Wall scaledPhoto(const yard::Wall& wall, base::Point from, base::Point to, base::Length distance) {
  yard::Wall scaled = wall;
  growPhoto(scaled, from, to, distance);
  return scaled;
}

PhotoScaleTool::PhotoScaleTool(CanvasView& view, base::Id wall, bool check)
    : PointTool(view), wall_(wall), checking_(check) {
  connect(&entry(), &InlineEntry::entered, this, &PhotoScaleTool::entered);
  connect(&entry(), &InlineEntry::cancelled, this, [this] {
    places_.clear();
    statusChanged();
    repaint();
  });
}

bool PhotoScaleTool::hasPhoto() const {
  const yard::Yard& yard = document().shownYard();
  const auto* wall = yard::find<yard::Wall>(yard, wall_);
  return !(wall ? wall->photo : yard::site(yard).photo).empty();
}

QString PhotoScaleTool::name() const {
  return said(moving_ ? "canvas_tool_photo_move" : "canvas_tool_photo");
}

QString PhotoScaleTool::status() const {
  if (!hasPhoto()) return said("canvas_status_photo_none");
  if (moving_) return said(places_.empty() ? "canvas_status_photo_move_from" : "canvas_status_photo_move_to");
  const char* first = checking_ ? "canvas_status_photo_check_first" : "canvas_status_photo_first";
  const char* second = checking_ ? "canvas_status_photo_check_second" : "canvas_status_photo_second";
  return places_.empty()       ? said(first)
         : places_.size() == 1 ? said(second)
                               : said("canvas_status_photo_type");
}

void PhotoScaleTool::press(const ToolEvent& event) {
  last_ = event;
  if (!hasPhoto()) return statusChanged();
  if (asking()) return;
  // Where it belongs is a place of the yard, which catches; what is clicked on the picture is not.
  places_.push_back(moving_ && places_.size() == 1 ? caught(event).at : event.scene);
  if (moving_) {
    if (places_.size() == 2) return movePhoto();
    statusChanged();
    return repaint();
  }
  if (places_.size() == 2 && pointOf(places_[0]) == pointOf(places_[1])) places_.pop_back();
  if (places_.size() == 2)
    entry().ask(said(checking_ ? "canvas_ask_check" : "canvas_ask_distance"), event.view, units());
  statusChanged();
  repaint();
}

void PhotoScaleTool::move(const ToolEvent& event) {
  last_ = event;
  repaint();
}

void PhotoScaleTool::entered(base::Length typed) {
  entry().put();
  const base::Point from = pointOf(places_[0]), to = pointOf(places_[1]);
  places_.clear();
  checking_ ? check(from, to, typed) : scale(from, to, typed);
}

void PhotoScaleTool::movePhoto() {
  const yard::Yard& yard = document().yard();
  const base::Point by = pointOf(places_[1]) - pointOf(places_[0]);
  places_.clear();
  edit::Editor editor(yard);
  editor.update<yard::Wall>(wall_, [&](yard::Wall& wall) { wall.photoAt = wall.photoAt + by; });
  if (!wall_)
    editor.update<yard::Site>(yard::siteId(yard), [&](yard::Site& site) {
      for (base::Point* p : {&site.photoAt, &site.scaleFrom, &site.scaleTo, &site.checkFrom, &site.checkTo})
        *p = *p + by;
    });
  document().commit(editor.finish(said("canvas_move_photo").toStdString()));
  leave();
}

void PhotoScaleTool::scale(base::Point from, base::Point to, base::Length typed) {
  const yard::Yard& yard = document().yard();
  edit::Editor editor(yard);
  if (const auto* wall = yard::find<yard::Wall>(yard, wall_))
    editor.replace(wall_, scaledPhoto(*wall, from, to, typed));
  else
    editor.replace(yard::siteId(yard), scaledPhoto(yard::site(yard), from, to, typed));
  document().commit(editor.finish(said("canvas_scale_photo").toStdString()));
  checking_ = true;
  statusChanged();
  repaint();
}

/// The yard's third distance is kept and judged; a wall's is told.
void PhotoScaleTool::check(base::Point from, base::Point to, base::Length typed) {
  const base::Length drawn = base::toLength({base::distance(base::vec(from), base::vec(to))});
  const double off = base::metres(drawn).si / base::metres(typed).si - 1.0;
  const QString verdict =
      said("canvas_photo_checked", {{"drawn", drawn}, {"tape", typed}, {"off", base::toRatio(std::abs(off))}},
           units());
  if (!wall_) {
    edit::Editor editor(document().yard());
    editor.update<yard::Site>(yard::siteId(document().yard()), [&](yard::Site& site) {
      site.checkFrom = from;
      site.checkTo = to;
      site.checkDistance = typed;
    });
    document().commit(editor.finish(said("canvas_check_photo").toStdString()));
  }
  CanvasView& on = view();
  leave();
  Q_EMIT on.statusChanged(verdict);
}

bool PhotoScaleTool::key(QKeyEvent& event) {
  if (event.key() == Qt::Key_Backspace && !places_.empty()) {
    places_.pop_back();
    statusChanged();
    repaint();
    return true;
  }
  return false;
}

bool PhotoScaleTool::stop() {
  const bool typing = PointTool::stop();
  if (places_.empty()) return typing;
  places_.clear();
  statusChanged();
  repaint();
  return true;
}

void PhotoScaleTool::paint(QPainter& painter) {
  if (places_.empty()) return;
  const QPointF a = view().toView(places_[0]),
                b = places_.size() == 2 ? view().toView(places_[1]) : QPointF(last_.view);
  painter.setPen(QPen(view().look().color(Role::Accent), 1.8));
  painter.drawLine(a, b);
  for (const QPointF p : {a, b}) {
    painter.drawLine(p - QPointF(6, 0), p + QPointF(6, 0));
    painter.drawLine(p - QPointF(0, 6), p + QPointF(0, 6));
  }
}

}  // namespace yw::ui
