#include "ui/canvas/front_view.h"

#include <algorithm>
#include <cmath>

#include "core/base/number_text.h"
#include "core/yard/labels.h"
#include "ui/canvas/edits.h"
#include "ui/canvas/tools/opening_tool.h"
#include "ui/canvas/tools/photo_scale_tool.h"
#include "ui/canvas/tools/place_tool.h"

namespace yw::ui {

using base::Id;
using base::Point;
using yard::Opening;
using yard::RecordKind;

FrontView::FrontView(Document& document, QWidget* parent) : CanvasView(document, parent) {
  setObjectName(QStringLiteral("frontView"));
  setAccessibleName(said("canvas_front_name"));
  setAccessibleDescription(said("canvas_front_description"));
  viewport()->setAccessibleName(said("canvas_front_name"));
  adopt(new FrontScene(document, ownLook(), this));
  setTool(nullptr);
  connect(&document, &Document::yardChanged, this, &FrontView::followWalls);
  connect(&document.selection(), &Selection::changed, this, [this] {
    if (!this->document().selection().ids().empty()) selectOpening(-1);
  });
  followWalls();
}

void FrontView::setWall(Id wall) {
  if (wall == front().wall()) return fitAll();
  selectOpening(-1);
  if (!selecting()) setTool(nullptr);
  front().setWall(wall);
  fitAll();
  Q_EMIT wallChanged(wall);
}

void FrontView::followWalls() {
  const auto* record = wallRecord();
  if (wall() && !record) setWall({});
  if (opening_ >= 0 && (!record || opening_ >= static_cast<int>(record->openings.size()))) selectOpening(-1);
}

const yard::Wall* FrontView::wallRecord() const {
  return yard::find<yard::Wall>(document().shownYard(), wall());
}

// ---- tools

void FrontView::drawOpening(yard::OpeningKind kind) { setTool(std::make_unique<OpeningTool>(*this, kind)); }
void FrontView::scalePhoto(bool check) { setTool(std::make_unique<PhotoScaleTool>(*this, wall(), check)); }
void FrontView::placeProp(const std::string& kind) {
  setTool(std::make_unique<PlaceTool>(*this, PlaceWhat{RecordKind::Prop, kind}, wall()));
}
void FrontView::placeGear(RecordKind kind) {
  setTool(std::make_unique<PlaceTool>(*this, PlaceWhat{kind, {}}, wall()));
}

std::unique_ptr<Tool> FrontView::selectTool() { return std::make_unique<FrontSelectTool>(*this); }

void FrontView::place(const QByteArray& data, QPointF scene) {
  const auto what = PlaceWhat::fromMime(data);
  if (!what || !wallRecord()) return;
  if (what->record != RecordKind::Prop && what->record != RecordKind::Box &&
      what->record != RecordKind::Outlet)
    return;
  PlaceTool tool(*this, *what, wall());
  if (!tool.placeAt(scene)) Q_EMIT statusChanged(tool.status());
}

// ---- openings

void FrontView::selectOpening(int index) {
  if (index == opening_) return;
  opening_ = index;
  if (WallItem* item = front().wallItem()) item->setChosen(index);
  if (index >= 0) document().selection().clear();
  viewport()->update();
  Q_EMIT openingSelected(index);
}

int FrontView::openingAt(QPointF scene) const {
  const auto* record = wallRecord();
  if (!record) return -1;
  int best = -1;
  double smallest = 1e300;
  for (std::size_t i = 0; i < record->openings.size(); ++i) {
    const QPolygonF outline = openingOutline(*record, record->openings[i]);
    const bool line = record->openings[i].kind == yard::OpeningKind::Eave;
    const bool hit = distanceTo(outline, !line, scene) <= reach() ||
                     (!line && outline.containsPoint(scene, Qt::OddEvenFill));
    const QRectF box = outline.boundingRect();
    const double size = box.width() + box.height();
    if (hit && size < smallest) smallest = size, best = static_cast<int>(i);
  }
  return best;
}

edit::Change FrontView::openingsChange(const char* step,
                                       const std::function<void(std::vector<Opening>&)>& change) const {
  edit::Editor editor(document().yard());
  editor.update<yard::Wall>(wall(), [&](yard::Wall& w) { change(w.openings); });
  return editor.finish(said(step, {{"wall", yard::labelOf(document().yard(), wall())}}).toStdString());
}

void FrontView::changeOpenings(const char* step, const std::function<void(std::vector<Opening>&)>& change,
                               const std::string& mergeKey) {
  document().commit(openingsChange(step, change), mergeKey);
}

bool FrontView::removeHere() {
  if (opening_ < 0) return false;
  const int gone = opening_;
  selectOpening(-1);
  changeOpenings("canvas_opening_delete",
                 [gone](std::vector<Opening>& openings) { openings.erase(openings.begin() + gone); });
  return true;
}

bool FrontView::nudgeHere(Point by, const std::string& key) {
  if (opening_ < 0) return false;
  changeOpenings(
      "canvas_opening_move",
      [&](std::vector<Opening>& openings) {
        Point& at = openings[static_cast<std::size_t>(opening_)].at;
        at = at + by;
      },
      key);
  return true;
}

// ---- what tools ask

void FrontView::addMove(edit::Editor& editor, const std::set<Id>& ids, Point by) const {
  edits::moveOnWall(editor, wall(), ids, by);
}

std::optional<QPointF> FrontView::placeHere(Id id) const {
  const CanvasItem* item = canvas().item(id);
  return item && item->layer() != Layer::Ground ? std::optional<QPointF>(item->pos()) : std::nullopt;
}

bool FrontView::canMoveHere(Id id) const {
  const yard::Yard& yard = document().shownYard();
  const auto* prop = yard::find<yard::Prop>(yard, id);
  const auto* box = yard::find<yard::Box>(yard, id);
  const bool hangs = (prop && prop->wall == wall()) || (box && box->wall == wall());
  return hangs && edits::canMove(yard, id) && !look().holds(prop ? Layer::Props : Layer::Gear);
}

std::vector<CatchPoint> FrontView::catches(const std::set<Id>& without) const {
  return wallCatches(document().shownYard(), wall(), without);
}

// ---- how it looks

Furniture FrontView::furniture() const {
  Furniture made;
  made.northArrow = false;
  made.units = units();
  constexpr double kMmOfScreen = 25.4 / 96.0;
  const auto ratio = static_cast<std::int64_t>(std::llround(1.0 / (look().scale * kMmOfScreen)));
  const std::string name = wallRecord() ? yard::labelOf(document().shownYard(), wall()) : std::string();
  made.title = name.empty() ? said("canvas_front_none")
                            : said("canvas_title", {{"yard", name}, {"ratio", ratio}}, units());
  addColorKey(made);
  return made;
}

QPointF FrontView::findingPlace(const findings::Finding& finding, bool& here) const {
  const auto [face, before] = front().onFace(finding.place);
  const auto* record = wallRecord();
  constexpr double kNear = 0.3;  // m
  here = record && !(finding.place == base::Vec3{}) && std::abs(before) <= kNear &&
         face.x() >= -kNear * 1e3 && face.x() <= base::metres(lengthOf(*record)).si * 1e3 + kNear * 1e3;
  return face;
}

}  // namespace yw::ui
