#include "ui/canvas/yard_view.h"

#include <QMenu>
#include <algorithm>
#include <cmath>

#include "core/base/number_text.h"
#include "core/yard/labels.h"
#include "ui/canvas/edits.h"
#include "ui/canvas/tools/draw_tool.h"
#include "ui/canvas/tools/feed_tool.h"
#include "ui/canvas/tools/measure_tool.h"
#include "ui/canvas/tools/photo_scale_tool.h"
#include "ui/canvas/tools/place_tool.h"
#include "ui/canvas/tools/run_tool.h"

namespace yw::ui {

using base::Id;
using base::Point;
using yard::RecordKind;

YardView::YardView(Document& document, QWidget* parent) : CanvasView(document, parent) {
  setObjectName(QStringLiteral("yardView"));
  setAccessibleName(said("canvas_yard_name"));
  setAccessibleDescription(said("canvas_yard_description"));
  viewport()->setAccessibleName(said("canvas_yard_name"));
  adopt(new YardScene(document, const_cast<Look&>(look()), this));
}

void YardView::drawFeature(yard::FeatureKind kind) { setTool(std::make_unique<DrawTool>(*this, kind)); }
void YardView::placeProp(const std::string& kind) {
  setTool(std::make_unique<PlaceTool>(*this, PlaceWhat{RecordKind::Prop, kind}));
}
void YardView::placeGear(RecordKind kind) {
  setTool(std::make_unique<PlaceTool>(*this, PlaceWhat{kind, {}}));
}
void YardView::pullRun() { setTool(std::make_unique<RunTool>(*this)); }
void YardView::startRun(Id port) { setTool(std::make_unique<RunTool>(*this, Id{}, port)); }
void YardView::addFeed() { setTool(std::make_unique<FeedTool>(*this)); }
void YardView::measure() { setTool(std::make_unique<MeasureTool>(*this)); }
void YardView::scalePhoto() { setTool(std::make_unique<PhotoScaleTool>(*this)); }

void YardView::addMove(edit::Editor& editor, const std::set<Id>& ids, Point by) const {
  edits::moveOnPlan(editor, ids, by);
}

std::optional<QPointF> YardView::placeHere(Id id) const {
  const auto place = edits::planPlace(document().shownYard(), id);
  return place ? std::optional<QPointF>(toScene(*place)) : std::nullopt;
}

bool YardView::canMoveHere(Id id) const {
  const CanvasItem* item = canvas().item(id);
  return edits::canMove(document().shownYard(), id) && !(item && look().holds(item->layer()));
}

bool YardView::canTurnHere(Id id) const {
  return canMoveHere(id) && edits::canTurn(document().shownYard(), id);
}

std::vector<CatchPoint> YardView::catches(const std::set<Id>& without) const {
  return planCatches(document().shownYard(), without);
}

namespace {

int rankOf(const yard::Record& record) {
  switch (yard::kindOf(record)) {
    case RecordKind::Box:
      return 0;
    case RecordKind::Prop:
      return 1;
    default:
      return 2;
  }
}

}  // namespace

std::vector<LabelWish> YardView::labelWishes() const {
  std::vector<LabelWish> wishes;
  const yard::Yard& yard = document().shownYard();
  const auto& chosen = document().selection().ids();
  const QRectF seen(viewport()->rect());
  for (const auto& [id, item] : canvas().records()) {
    const auto record = yard.records.find(id);
    if (record == yard.records.end() || !item->isVisible()) continue;
    const RecordKind kind = yard::kindOf(*record->second);
    if (item->layer() == Layer::Ground || item->layer() == Layer::Photo || kind == RecordKind::SpotHeight)
      continue;
    QRectF of = viewportTransform().mapRect(item->extent());
    if (item->layer() == Layer::Gear) of = QRectF(of.center() - QPointF(10, 10), QSizeF(20, 20));
    if (!of.intersects(seen) && !seen.contains(of.center())) continue;
    wishes.push_back({QString::fromStdString(yard::labelOf(yard, id)), of.intersected(seen),
                      rankOf(*record->second), chosen.contains(id)});
  }
  constexpr double kCableLabels = 0.12;  // logical pixels a mm from which every cable has its label
  for (const auto& [key, cable] : canvas().cables()) {
    const bool loud = chosen.contains(cable->id());
    if (!cable->isVisible() || (!loud && look().scale < kCableLabels)) continue;
    const QPointF at = toView(cable->middle());
    if (seen.contains(at) && !cable->label().isEmpty())
      wishes.push_back({cable->label(), QRectF(at - QPointF(2, 2), QSizeF(4, 4)), 3, false});
  }
  return wishes;
}

Furniture YardView::furniture() const {
  Furniture made;
  const yard::Yard& yard = document().shownYard();
  const yard::Site& site = yard::site(yard);
  made.north = base::degrees(site.north);
  made.units = units();
  constexpr double kMmOfScreen = 25.4 / 96.0;  // a logical pixel is 1/96 inch
  const auto ratio = static_cast<std::int64_t>(std::llround(1.0 / (look().scale * kMmOfScreen)));
  made.title = said("canvas_title", {{"yard", site.name}, {"ratio", ratio}}, units()).trimmed();
  addColorKey(made);
  return made;
}

QPointF YardView::findingPlace(const findings::Finding& finding, bool& here) const {
  here = !(finding.place == base::Vec3{});  // findings about the whole yard have no place
  return toScene(base::plan(finding.place));
}

void YardView::place(const QByteArray& data, QPointF scene) {
  const auto what = PlaceWhat::fromMime(data);
  if (!what) return;
  PlaceTool tool(*this, *what);
  if (!tool.placeAt(scene)) Q_EMIT statusChanged(tool.status());
}

void YardView::buildMenu(QMenu& menu) {
  const Id id = document().selection().single();
  const yard::Yard& yard = document().yard();
  const auto add = [&](const char* key, auto act, const char* objectName) {
    menu.addAction(said(key), this, act)->setObjectName(QLatin1String(objectName));
  };
  if (yard::find<yard::Box>(yard, id) || yard::find<yard::Run>(yard, id))
    add(
        "canvas_menu_run", [this] { pullRun(); }, "menuRun");
  if (yard::find<yard::Prop>(yard, id))
    add(
        "canvas_menu_feed", [this] { addFeed(); }, "menuFeed");
  CanvasView::buildMenu(menu);
}

}  // namespace yw::ui
