#include "ui/canvas/canvas_scene.h"

#include <algorithm>
#include <cmath>
#include <functional>

namespace yw::ui {

using base::Id;

namespace {

bool sameGeometry(const yard::Prop& a, const yard::Prop& b) {
  return a.kind == b.kind && a.sizes == b.sizes && a.choices == b.choices && a.path == b.path &&
         a.lines == b.lines && a.stringOrder == b.stringOrder;
}

/// Magnitudes part of the way from one to the other; states and kinds change at once.
std::vector<std::uint8_t> blendedCodes(const std::vector<std::uint8_t>& from,
                                       const std::vector<std::uint8_t>& to, double part) {
  std::vector<std::uint8_t> now = to;
  for (std::size_t i = 0; i < now.size(); ++i)
    if (from[i] < pixel_code::kMagnitudes && to[i] < pixel_code::kMagnitudes)
      now[i] = static_cast<std::uint8_t>(std::lround(from[i] + (to[i] - from[i]) * part));
  return now;
}

}  // namespace

CanvasScene::CanvasScene(Document& document, Look& look, QObject* parent)
    : QGraphicsScene(parent), document_(document), look_(look) {
  // Few hundred items that move and rescale: a linear walk costs less than keeping an index true.
  setItemIndexMethod(NoIndex);
  constexpr double kHuge =
      4e6;  // mm each way: larger than any yard, so that a small plan can be anchored too
  setSceneRect(-kHuge, -kHuge, 2 * kHuge, 2 * kHuge);
  flow_.setDuration(150);
  flow_.setStartValue(0.0);
  flow_.setEndValue(1.0);
  connect(&flow_, &QVariantAnimation::valueChanged, this, [this](const QVariant& value) {
    const double part = value.toDouble();
    for (const auto& [id, codes] : flowing_)
      if (PropItem* item = prop(id)) item->setCodes(blendedCodes(codes.first, codes.second, part));
  });
}

CanvasItem* CanvasScene::item(Id id) const {
  const auto it = items_.find(id);
  return it == items_.end() ? nullptr : it->second;
}

PropItem* CanvasScene::prop(Id id) const { return dynamic_cast<PropItem*>(item(id)); }

std::vector<Id> CanvasScene::idsAt(QPointF scene, double reach, bool heldToo) const {
  std::vector<const CanvasItem*> hit;
  const auto consider = [&](const CanvasItem* candidate) {
    if (candidate->isVisible() && (heldToo || !candidate->heldStill()) && candidate->hit(scene, reach))
      hit.push_back(candidate);
  };
  for (const auto& [id, item] : items_) consider(item);
  for (const auto& [key, cable] : cables_) consider(cable);
  std::stable_sort(hit.begin(), hit.end(), [](const CanvasItem* a, const CanvasItem* b) {
    const bool groundA = a->layer() == Layer::Ground, groundB = b->layer() == Layer::Ground;
    if (groundA != groundB) return groundB;
    const bool gearA = a->layer() == Layer::Gear, gearB = b->layer() == Layer::Gear;
    if (gearA != gearB) return gearA;
    return a->weight() < b->weight();
  });
  std::vector<Id> ids;
  for (const CanvasItem* item : hit)
    if (std::find(ids.begin(), ids.end(), item->id()) == ids.end()) ids.push_back(item->id());
  return ids;
}

std::set<Id> CanvasScene::idsIn(const QRectF& rect, bool touched) const {
  std::set<Id> ids;
  for (const auto& [id, item] : items_) {
    if (!item->isVisible() || item->heldStill()) continue;
    if (touched ? item->touches(rect) || rect.contains(item->extent()) : rect.contains(item->extent()))
      ids.insert(id);
  }
  return ids;
}

QRectF CanvasScene::extentOf(const std::set<Id>& ids) const {
  QRectF all;
  for (const Id id : ids)
    if (const CanvasItem* one = item(id)) all = all.united(one->extent());
  for (const auto& [key, cable] : cables_)
    if (ids.contains(cable->id())) all = all.united(cable->extent());
  return all;
}

QRectF CanvasScene::extentOfAll() const {
  QRectF all;
  for (const auto& [id, item] : items_)
    if (!item->extent().isEmpty()) all = all.united(item->extent());
  return all;
}

std::int64_t CanvasScene::pixelsIn(const QRectF& rect) const {
  std::int64_t count = 0;
  for (const auto& [id, item] : items_)
    if (const auto* prop = dynamic_cast<const PropItem*>(item); prop && prop->extent().intersects(rect))
      count += static_cast<std::int64_t>(prop->drawing()->pixels.size());
  return count;
}

void CanvasScene::applyLayers() {
  for (const auto& [id, item] : items_) item->setVisible(look_.shows(item->layer()));
  for (const auto& [key, cable] : cables_) cable->setVisible(look_.shows(Layer::Cables));
}

routes::ShapePtr CanvasScene::shapeOf(Id id, const yard::Prop& prop) {
  if (const auto& a = document_.assessment()) {
    const auto* theirs = yard::find<yard::Prop>(a->yard, id);
    const auto shape = a->shapes.find(id);
    if (theirs && shape != a->shapes.end() && sameGeometry(*theirs, prop)) {
      made_.erase(id);
      return shape->second;
    }
  }
  MadeShape& mine = made_[id];
  const auto* before = mine.record ? std::get_if<yard::Prop>(mine.record.get()) : nullptr;
  if (!before || !sameGeometry(*before, prop)) {
    mine.record = std::make_shared<const yard::Record>(prop);
    auto made = shapes::make(prop);
    if (made) mine.shape = std::make_shared<const shapes::Shape>(std::move(*made));
  }
  return mine.shape;  // sizes that are refused leave the last good shape, or none
}

void CanvasScene::drop(Id id) {
  const auto it = items_.find(id);
  if (it == items_.end()) return;
  delete it->second;
  items_.erase(it);
  made_.erase(id);
  drawn_.erase(id);
}

std::vector<Id> CanvasScene::changedRecords() {
  const yard::Yard& now = document_.shownYard();
  std::vector<Id> changed;
  auto a = seen_.records.begin();
  auto b = now.records.begin();
  while (a != seen_.records.end() || b != now.records.end()) {
    if (b == now.records.end() || (a != seen_.records.end() && a->first < b->first)) {
      changed.push_back((a++)->first);
    } else if (a == seen_.records.end() || b->first < a->first) {
      changed.push_back((b++)->first);
    } else {
      // Another yard may have the id for a thing of another kind.
      if (a->second->index() != b->second->index()) drop(a->first);
      if (a->second != b->second) changed.push_back(a->first);
      ++a, ++b;
    }
  }
  seen_ = now;
  return changed;
}

void CanvasScene::syncCables(const std::function<QPolygonF(const routes::RoutedCable&)>& flatten) {
  const auto& a = document_.assessment();
  std::map<routes::CableKey, CableItem*> kept;
  for (const auto& [key, cable] : a->routes.cables) {
    QPolygonF line = flatten(cable);
    const auto old = cables_.find(key);
    if (old != cables_.end() && old->second->line() == line &&
        old->second->label().toStdString() == cable.label) {
      kept[key] = old->second;
      old->second->setEnd(routes::leadsTo(a->yard, key));
      cables_.erase(old);
    } else if (line.size() > 1) {
      auto* made = new CableItem(look_, cable);
      made->setLine(std::move(line));
      made->setEnd(routes::leadsTo(a->yard, key));
      addItem(made);
      made->setVisible(look_.shows(Layer::Cables));
      kept[key] = made;
    }
  }
  for (const auto& [key, gone] : cables_) delete gone;
  cables_ = std::move(kept);
}

/// Sets every prop's colors, at once or over a moment. Only a change that is done flows: colors under a drag
/// follow the hand as they are.
void CanvasScene::flowTo(const std::map<Id, std::vector<std::uint8_t>>& codes) {
  flow_.stop();
  flowing_.clear();
  constexpr std::size_t kMostFlowing = 30'000;  // pixels: more would not keep up with the eye
  std::size_t changed = 0;
  const bool dragging = &document_.shownYard() != &document_.yard();
  for (const auto& [id, item] : items_) {
    auto* one = dynamic_cast<PropItem*>(item);
    if (!one) continue;
    const auto found = codes.find(id);
    std::vector<std::uint8_t> to = found == codes.end() ? std::vector<std::uint8_t>() : found->second;
    const bool flows = motion_ && !dragging && look_.colorBy == ColorBy::Volts && to != one->codes() &&
                       to.size() == one->codes().size();
    if (flows && (changed += to.size()) <= kMostFlowing)
      flowing_[id] = {one->codes(), std::move(to)};
    else
      one->setCodes(std::move(to));
  }
  if (!flowing_.empty()) flow_.start();
}

void CanvasScene::syncColors() {
  const auto& a = document_.assessment();
  if (!a) return;
  colors_ = pixelColors(*a, look_.colorBy);
  flowTo(colors_.pixels);
  for (const auto& [id, item] : items_) {
    auto* prop = dynamic_cast<PropItem*>(item);
    if (!prop) continue;
    const auto outline = colors_.outline.find(id);
    prop->setOutlineCode(outline == colors_.outline.end() ? pixel_code::kUnwired : outline->second);
  }
  for (const auto& [key, cable] : cables_) {
    const bool data = key.role == routes::CableRole::Lead || key.role == routes::CableRole::Jumper;
    const auto run = colors_.runs.find(key.of);
    cable->setCode(look_.colorBy == ColorBy::Run && data && run != colors_.runs.end() ? run->second
                                                                                      : pixel_code::kUnwired);
  }
}

}  // namespace yw::ui
