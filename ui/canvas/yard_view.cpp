#include "ui/canvas/yard_view.h"

#include <QMenu>
#include <algorithm>
#include <cmath>

#include "core/base/number_text.h"
#include "core/yard/labels.h"
#include "ui/canvas/edits.h"
#include "ui/canvas/tools/draw_tool.h"
#include "ui/canvas/tools/photo_scale_tool.h"
#include "ui/canvas/tools/place_tool.h"

namespace yw::ui {

using base::Id;
using base::Point;
using yard::RecordKind;

YardView::YardView(Document& document, QWidget* parent) : CanvasView(document, parent) {
  setObjectName(QStringLiteral("yardView"));
  setAccessibleName(said("canvas_yard_name"));
  setAccessibleDescription(said("canvas_yard_description"));
  viewport()->setAccessibleName(said("canvas_yard_name"));
  adopt(new YardScene(document, ownLook(), this));
}

void YardView::drawFeature(yard::FeatureKind kind) { setTool(std::make_unique<DrawTool>(*this, kind)); }
void YardView::placeProp(const std::string& kind) {
  setTool(std::make_unique<PlaceTool>(*this, PlaceWhat{RecordKind::Prop, kind}));
}
void YardView::placeGear(RecordKind kind) {
  setTool(std::make_unique<PlaceTool>(*this, PlaceWhat{kind, {}}));
}
void YardView::scalePhoto(bool check) { setTool(std::make_unique<PhotoScaleTool>(*this, base::Id{}, check)); }

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

}  // namespace yw::ui
