#include "ui/canvas/tools/place_tool.h"

#include <QKeyEvent>
#include <QPainter>
#include <algorithm>
#include <cmath>
#include <cstring>
#include <utility>

#include "core/edit/usual.h"
#include "core/file/my_props.h"
#include "core/yard/labels.h"
#include "ui/canvas/canvas_view.h"

namespace yw::ui {

using base::Id;
using base::Point;
using base::Vec2;
using papers::Role;
using yard::RecordKind;

namespace {
constexpr double kCloses = 6.0;  // px between the last place and the first of a closed line

constexpr double kWallReach = 28.0;  ///< logical pixels within which a wall takes what hangs on walls
constexpr double kGearReach = 9.0;   ///< and what may hang there

/// Word of the file for a kind, `box`.
QByteArray word(RecordKind kind) {
  return QByteArray(yard::kindWords()[static_cast<std::size_t>(kind)].name);
}

constexpr const char* kMine = "mine:";
constexpr RecordKind kGear[] = {RecordKind::Box, RecordKind::Outlet, RecordKind::OtherLoad,
                                RecordKind::AudiencePoint, RecordKind::SpotHeight};

Point wallPoint(double along, double height) { return base::point(Vec2{along, height}); }

}  // namespace

QByteArray PlaceWhat::mime() const {
  return record == RecordKind::Prop ? QByteArray("prop:") + QByteArray::fromStdString(kind) : word(record);
}

std::optional<PlaceWhat> PlaceWhat::fromMime(const QByteArray& data) {
  if (data.startsWith("prop:")) {
    const std::string kind = data.mid(5).toStdString();
    if (!shapes::findKind(kind) && !kind.starts_with(kMine)) return std::nullopt;
    return PlaceWhat{RecordKind::Prop, kind};
  }
  for (const RecordKind gear : kGear)
    if (word(gear) == data) return PlaceWhat{gear, {}};
  return std::nullopt;
}

bool PlaceTool::path() const { return kind_ && !mine_ && (kind_->alongPath || own()); }

PlaceTool::PlaceTool(CanvasView& view, PlaceWhat what, Id wall)
    : PointTool(view), what_(std::move(what)), wall_(wall) {
  if (what_.record != RecordKind::Prop) return;
  if (what_.kind.starts_with(kMine))
    readMine();
  else
    kind_ = shapes::findKind(what_.kind);
  if (!kind_ || path()) return;
  if (const auto shape = shapes::make(newProp())) ghost_ = wall_ ? frontDrawing(*shape) : planDrawing(*shape);
}

/// One of my props: nothing is placed if it is not in the library any more.
void PlaceTool::readMine() {
  const auto library = file::readMyProps(file::myPropsFile());
  if (!library) return;
  const base::Id id{
      QByteArray::fromStdString(what_.kind).mid(static_cast<int>(std::strlen(kMine))).toLongLong()};
  const auto* prop = yard::find<yard::Prop>(*library, id);
  if (!prop) return;
  library_ = *library;
  mine_ = id;
  kind_ = shapes::findKind(prop->kind);
}

yard::Prop PlaceTool::newProp() const {
  const auto* mine = yard::find<yard::Prop>(library_, mine_);
  return mine ? *mine : shapes::usualProp(what_.kind);
}

void PlaceTool::start() {
  connect(&entry(), &InlineEntry::changed, this, [this] { repaint(); });
  connect(&entry(), &InlineEntry::entered, this, [this](base::Length) {
    const QPointF at = candidate();
    entry().put();
    addPlace(at);
  });
}

QString PlaceTool::name() const {
  const std::string what = kind_ ? kind_->label : yard::label(what_.record);
  return said("canvas_tool_place", {{"what", QString::fromStdString(what).toLower().toStdString()}});
}

QString PlaceTool::status() const {
  if (needsWall() && !wall_ && yard::all<yard::Wall>(document().shownYard()).empty())
    return said("canvas_status_place_no_wall");
  if (own() && !(path_.empty() && lines_.empty())) return said("canvas_status_own_next");
  if (own()) return said("canvas_status_own_first");
  if (path()) return said(path_.empty() ? "canvas_status_path_first" : "canvas_status_path_next");
  if (wall_)
    return said("canvas_status_place_front", {{"wall", yard::labelOf(document().shownYard(), wall_)}});
  return said(needsWall() ? "canvas_status_place_wall" : "canvas_status_place");
}

/// The wall nearest to a place of the plan, within `reach` logical pixels.
std::optional<PlaceTool::Foot> PlaceTool::footAt(QPointF scene, double reach) const {
  std::optional<Foot> best;
  double nearest = reach / view().scaleNow() * 1e-3;
  const Vec2 at = planOf(scene);
  for (const auto& [id, wall] : yard::all<yard::Wall>(document().shownYard())) {
    const Vec2 from = base::vec(wall->from), whole = base::vec(wall->to) - from;
    const double length = base::norm(whole);
    if (length <= 0) continue;
    const double along = std::clamp(base::dot(at - from, whole) / length, 0.0, length);
    const Vec2 foot = from + whole * (along / length);
    if (base::distance(foot, at) > nearest) continue;
    nearest = base::distance(foot, at);
    best = Foot{id, along, toScene(foot)};
  }
  return best;
}

/// Height at which a thing that was dropped on a wall from above is hung: at the eave if it follows the roof,
/// else as a window's sill usually is. Common practice, no source.
double PlaceTool::heightOnWall(Id wallId) const {
  const auto* wall = yard::find<yard::Wall>(document().shownYard(), wallId);
  const double eave = wall ? base::metres(wall->eaveHeight).si : 0.0;
  if (what_.record == RecordKind::Box) return base::metres(base::feet(4)).si;
  if (!kind_) return 0.0;
  if (kind_->name == "door_outline") return 0.0;
  if (kind_->alongPath || kind_->name == "gable") return eave;
  return std::min(base::metres(base::feet(3)).si, eave);
}

void PlaceTool::move(const ToolEvent& event) {
  last_ = event;
  snapped_ = caught(event);
  if (asking()) entry().moveNear(event.view);
  if (!wall_ && needsWall()) {
    if (const auto foot = footAt(snapped_.at, kWallReach)) snapped_.at = foot->scene;
  }
  repaint();
}

QPointF PlaceTool::candidate() const {
  if (!path() || path_.empty()) return snapped_.at;
  QPointF way = snapped_.at - path_.back();
  if (last_.modifiers & Qt::ShiftModifier) way = constrained(last_.scene - path_.back());
  const auto typed = typedLength();
  if (!typed) return path_.back() + way;
  const double length = std::hypot(way.x(), way.y());
  if (length < 1e-9) return path_.back() + QPointF(base::metres(*typed).si * 1e3, 0);
  return path_.back() + way * (base::metres(*typed).si * 1e3 / length);
}

std::optional<base::Length> PlaceTool::typedLength() const {
  auto& entry = const_cast<PlaceTool*>(this)->entry();
  return asking() ? entry.length() : std::nullopt;
}

void PlaceTool::press(const ToolEvent& event) {
  move(event);
  if (!path()) {
    const bool more = event.modifiers & Qt::ShiftModifier;
    if (needsWall() && !wall_ && !footAt(snapped_.at, kWallReach)) return statusChanged();
    return commit(recordAt(snapped_.at), more);
  }
  if (needsWall() && !wall_) {
    const auto foot = footAt(snapped_.at, kWallReach);
    if (!foot) return statusChanged();
    if (!path_.empty()) {  // a line along a wall stays on the wall it began on
      const auto first = footAt(path_.front(), kWallReach);
      if (!first || first->wall != foot->wall) return statusChanged();
    }
  }
  const QPointF at = candidate();
  if (asking()) entry().put();
  addPlace(at);
}

void PlaceTool::addPlace(QPointF at) {
  if (!path_.empty() && pointOf(at) == pointOf(path_.back())) return;
  path_.push_back(at);
  statusChanged();
  repaint();
}

void PlaceTool::doubleClick(const ToolEvent& event) {
  if (path())
    finishPath();
  else
    press(event);
}

bool PlaceTool::key(QKeyEvent& event) {
  if (event.key() == Qt::Key_Return || event.key() == Qt::Key_Enter) {
    if (path() && (finishPath() || !own() || !path_.empty())) return true;
    placeAt(view().toSceneExact(QRectF(view().viewport()->rect()).center()));
    return true;
  }
  if (event.key() == Qt::Key_Backspace && path_.empty() && !lines_.empty()) {
    path_ = std::move(lines_.back());
    lines_.pop_back();
  }
  if (event.key() == Qt::Key_Backspace && !path_.empty()) {
    path_.pop_back();
    statusChanged();
    repaint();
    return true;
  }
  if (path() && !path_.empty() && beginsLength(event)) {
    entry().ask(said("canvas_ask_side"), last_.view, units(), event.text());
    return true;
  }
  if (event.key() == Qt::Key_N && own() && path_.size() > 1) {  // the next line of the same shape
    lines_.push_back(std::exchange(path_, {}));
    statusChanged();
    repaint();
    return true;
  }
  if (event.key() == Qt::Key_R && ghost_ && !wall_) {
    heading_ += event.modifiers() & Qt::ShiftModifier ? -15.0 : 15.0;
    heading_ -= std::floor(heading_ / 360.0) * 360.0;
    repaint();
    return true;
  }
  return false;
}

bool PlaceTool::stop() {
  if (PointTool::stop()) return true;
  if (path_.empty() && lines_.empty()) return false;
  path_.clear();
  lines_.clear();
  statusChanged();
  repaint();
  return true;
}

void PlaceTool::takePlace(QPointF scene) {
  snapped_ = {scene, false, Catch::Grid, {}, {}};
  if (!path()) {
    if (!placeAt(scene)) statusChanged();
    return;
  }
  path_.push_back(scene);
  statusChanged();
  repaint();
}

bool PlaceTool::placeAt(QPointF scene) {
  if (path()) {
    // Dropped whole: the kind's usual line, for the hand to reshape.
    if (needsWall() && !wall_ && !footAt(scene, 1e6)) return false;
    commit(recordAt(scene), false);
    return true;
  }
  if (needsWall() && !wall_ && !footAt(scene, 1e6)) return false;
  commit(recordAt(scene), false);
  return true;
}

yard::Record PlaceTool::recordAt(QPointF scene) const {
  const yard::Yard& yard = document().yard();
  const auto named = [&](const char* stem) { return yard::freeName(yard, what_.record, stem); };
  const auto circuits = yard::all<yard::HouseCircuit>(yard);
  const Id circuit = circuits.size() == 1 ? circuits.front().first : Id{};
  const auto foot = wall_ ? std::nullopt : footAt(scene, needsWall() ? 1e6 : kGearReach);
  switch (what_.record) {
    case RecordKind::Box: {
      yard::Box box;
      box.name = named("K");
      box.at = pointOf(scene);
      box.wall = wall_;
      if (foot) {
        box.wall = foot->wall;
        box.at = wallPoint(foot->along, heightOnWall(foot->wall));
      }
      return box;
    }
    case RecordKind::Outlet: {
      yard::Outlet outlet;
      outlet.name = named("Outlet");
      outlet.at = pointOf(foot ? foot->scene : scene);
      if (const auto* wall = yard::find<yard::Wall>(yard, wall_)) {  // seen face-on
        const Vec2 from = base::vec(wall->from), whole = base::vec(wall->to) - from;
        const double length = std::max(base::norm(whole), 1e-9);
        outlet.at = base::point(from + whole * (planOf(scene).x / length));
        outlet.height = std::max(base::Length{0}, pointOf(scene).y);
      }
      return outlet;
    }
    case RecordKind::OtherLoad: {
      yard::OtherLoad load;
      load.name = named("Other load");
      load.circuit = circuit;
      load.at = pointOf(scene);
      return load;
    }
    case RecordKind::AudiencePoint: {
      yard::AudiencePoint point;
      point.name = named("Audience");
      point.at = pointOf(scene);
      point.facing = base::toAngle(180.0);  // from the street towards the house, up the plan
      return point;
    }
    case RecordKind::SpotHeight: {
      yard::SpotHeight spot;
      spot.at = pointOf(scene);
      return spot;
    }
    default:
      break;
  }
  yard::Prop prop = newProp();
  prop.name = named(mine_ && !prop.name.empty() ? prop.name.c_str() : kind_->label.c_str());
  if (!mine_) prop.status = yard::PropStatus::Building;  // its stock is still to buy
  prop.at = pointOf(scene);
  prop.wall = wall_;
  if (foot && needsWall()) {
    prop.wall = foot->wall;
    prop.at = wallPoint(foot->along, heightOnWall(foot->wall));
  } else if (!wall_) {
    prop.heading = base::toAngle(heading_);
  }
  return prop;
}

/// A line as clicked, from `zero`; back at its first place it is closed.
yard::OwnLine PlaceTool::ownLine(const std::vector<QPointF>& places, base::Point zero) const {
  yard::OwnLine line;
  for (const QPointF p : places) line.points.push_back(pointOf(p) - zero);
  const QPointF gap = view().toView(places.back()) - view().toView(places.front());
  line.closed = line.points.size() > 3 && std::hypot(gap.x(), gap.y()) < kCloses;
  if (line.closed) line.points.pop_back();
  return line;
}

/// What was clicked as the lines of an own shape. On a wall it hangs from its first place, its lowest just
/// there; on the plan it lies flat.
void PlaceTool::drawOwn(yard::Prop& prop) const {
  const base::Point zero = pointOf(lines_.front().front());
  prop.lines.clear();
  base::Length low = zero.y;
  for (const auto& line : lines_) {
    prop.lines.push_back(ownLine(line, zero));
    for (const QPointF p : line) low = std::min(low, pointOf(p).y);
  }
  prop.sizes["foot"] = 0;
  prop.at = {zero.x, low};
  if (wall_) return;
  prop.choices["lies"] = "flat";
  prop.at = zero;
  prop.heading = {};
}

bool PlaceTool::finishPath() {
  const bool more = last_.modifiers & Qt::ShiftModifier;
  if (own()) {
    if (path_.size() > 1) lines_.push_back(std::exchange(path_, {}));
    path_.clear();
    if (lines_.empty()) return false;
    yard::Prop drawn = std::get<yard::Prop>(recordAt(lines_.front().front()));
    drawOwn(drawn);
    lines_.clear();
    commit(drawn, more);
    return true;
  }
  if (path_.size() < 2) return false;
  yard::Prop prop = std::get<yard::Prop>(recordAt(path_.front()));
  prop.path.clear();
  if (needsWall() && !wall_) {  // along a wall seen from above: every place at one height
    const double start = footAt(path_.front(), kWallReach)->along;
    for (const QPointF p : path_)
      if (const auto foot = footAt(p, kWallReach)) prop.path.push_back(wallPoint(foot->along - start, 0.0));
  } else {
    prop.heading = {};
    for (const QPointF p : path_) prop.path.push_back(pointOf(p) - pointOf(path_.front()));
  }
  path_.clear();
  commit(prop, more);
  return true;
}

void PlaceTool::commit(yard::Record record, bool more) {
  edit::Editor editor(document().yard());
  if (auto* outlet = std::get_if<yard::Outlet>(&record)) outlet->circuit = edit::usualCircuit(editor);
  Id id;
  if (const auto* prop = std::get_if<yard::Prop>(&record); prop && mine_) {
    id = file::putMyProp(editor, library_, mine_, prop->at);  // with its pixel and what was measured
    editor.update<yard::Prop>(id, [&](yard::Prop& put) {
      put.name = prop->name;
      put.wall = prop->wall;
      put.heading = prop->heading;
    });
  } else {
    id = editor.add(std::move(record));
  }
  const std::string step =
      said("canvas_place_step", {{"what", yard::labelOf(editor.yard(), id)}}).toStdString();
  document().commit(editor.finish(step));
  document().selection().set({id});
  if (more)
    repaint();
  else
    leave();
}

void PlaceTool::paint(QPainter& painter) {
  const QColor accent = view().look().color(Role::Accent);
  const QPointF at = view().toView(candidate());
  paintCatch(painter, snapped_);
  painter.setPen(QPen(accent, 1.6));
  painter.setBrush(Qt::NoBrush);
  if (ghost_) {
    painter.save();
    painter.translate(at);
    if (needsWall() && !wall_) {  // turned along the wall it will hang on
      if (const auto foot = footAt(candidate(), kWallReach))
        if (const auto* wall = yard::find<yard::Wall>(document().shownYard(), foot->wall)) {
          const QPointF way = toScene(wall->to) - toScene(wall->from);
          painter.rotate(std::atan2(way.y(), way.x()) * 180.0 / M_PI);
        }
    } else {
      painter.rotate(-heading_);
    }
    painter.scale(view().scaleNow(), view().scaleNow());
    QPen pen(accent, 1.6);
    pen.setCosmetic(true);
    painter.setPen(pen);
    if (!ghost_->body.isEmpty()) painter.drawPolygon(ghost_->body);
    for (const QPolygonF& line : ghost_->frame) painter.drawPolyline(line);
    if (ghost_->frame.empty())
      painter.drawPolyline(ghost_->pixels.data(), static_cast<int>(ghost_->pixels.size()));
    painter.restore();
  } else if (path()) {
    QPolygonF line;
    for (const auto& before : lines_) {
      QPolygonF drawn;
      for (const QPointF p : before) drawn << view().toView(p);
      painter.drawPolyline(drawn);
    }
    for (const QPointF p : path_) line << view().toView(p);
    painter.drawPolyline(line);
    if (!line.isEmpty()) {
      painter.setPen(QPen(accent, 1.6, Qt::DashLine));
      painter.drawLine(line.back(), at);
    }
  } else {
    painter.drawRect(QRectF(at - QPointF(8, 8), QSizeF(16, 16)));
  }
  QStringList lines;
  if (path() && !path_.empty()) {
    const QPointF way = candidate() - path_.back();
    lines << lengthWords(std::hypot(way.x(), way.y()));
  }
  if (snapped_.caught && !asking()) lines << snapped_.name;
  if (!asking()) paintNote(painter, view(), QPointF(last_.view), lines);
}

}  // namespace yw::ui
