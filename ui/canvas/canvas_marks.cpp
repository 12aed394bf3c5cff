// Labels, signs of findings and the color key: what stands over the drawing and steps aside.
#include <algorithm>
#include <cmath>

#include "core/yard/labels.h"
#include "ui/canvas/canvas_view.h"

namespace yw::ui {

using base::Id;
using yard::RecordKind;

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

std::vector<LabelWish> CanvasView::labelWishes() const {
  std::vector<LabelWish> wishes;
  const yard::Yard& yard = document_.shownYard();
  const auto& chosen = document_.selection().ids();
  const QRectF seen(viewport()->rect());
  for (const auto& [id, item] : canvas_->records()) {
    const auto record = yard.records.find(id);
    if (record == yard.records.end() || !item->isVisible()) continue;
    const RecordKind kind = yard::kindOf(*record->second);
    if (item->layer() == Layer::Ground || item->layer() == Layer::Photo || kind == RecordKind::SpotHeight)
      continue;
    QRectF of = viewportTransform().mapRect(item->extent()).adjusted(-1, -1, 1, 1);  // a line has an area too
    if (item->layer() == Layer::Gear) of = QRectF(of.center() - QPointF(10, 10), QSizeF(20, 20));
    if (!of.intersects(seen) && !seen.contains(of.center())) continue;
    wishes.push_back({QString::fromStdString(yard::labelOf(yard, id)), of.intersected(seen),
                      rankOf(*record->second), chosen.contains(id)});
  }
  constexpr double kCableLabels = 0.12;  // logical pixels a mm from which every cable has its label
  const bool byRun = look_.colorBy == ColorBy::Run;
  for (const auto& [key, cable] : canvas_->cables()) {
    const bool loud = chosen.contains(cable->id());
    // A color never stands alone: where it means the run, the run is written at its lead.
    const bool names = byRun && key.role == routes::CableRole::Lead;
    if (!cable->isVisible() || (!loud && !names && look_.scale < kCableLabels)) continue;
    const QPointF at = toView(cable->middle());
    if (!seen.contains(at) || cable->label().isEmpty()) continue;
    const QString text = names ? QString::fromStdString(yard::labelOf(yard, key.of)) : cable->label();
    wishes.push_back({text, QRectF(at - QPointF(2, 2), QSizeF(4, 4)), names ? 2 : 3, false});
  }
  return wishes;
}

void CanvasView::marksChanged() {
  if (!marksTimer_.isActive()) marksTimer_.start();
}

void CanvasView::settle() {
  marksTimer_.stop();
  layOutMarks();
}

void CanvasView::occupy(QPainter& painter) const {
  const QTransform toScreen = viewportTransform();
  for (const auto& [id, item] : canvas_->records()) {
    if (item->layer() == Layer::Gear && item->isVisible()) {
      painter.setWorldTransform(QTransform::fromScale(1 / Occupied::kCell, 1 / Occupied::kCell));
      painter.drawRect(QRectF(toView(item->pos()) - QPointF(9, 8), QSizeF(18, 16)));
    }
    const auto* prop = dynamic_cast<const PropItem*>(item);
    if (!prop || !prop->isVisible()) continue;
    painter.setWorldTransform(prop->sceneTransform() * toScreen *
                              QTransform::fromScale(1 / Occupied::kCell, 1 / Occupied::kCell));
    const auto& pixels = prop->drawing()->pixels;
    if (!prop->drawing()->body.isEmpty()) painter.drawPolygon(prop->drawing()->body);
    if (!pixels.empty()) painter.drawPolyline(pixels.data(), static_cast<int>(pixels.size()));
  }
}

void CanvasView::layOutMarks() {
  marksTimer_.stop();
  if (!canvas_ || viewport()->size().isEmpty()) return;
  const auto before = std::move(labels_);
  const auto signsBefore = std::move(signs_);
  labels_.clear();
  signs_.clear();
  furniture_ = furniture();
  layOutSigns();
  if (look_.shows(Layer::Labels)) {
    Occupied occupied(viewport()->size());
    occupied.take([&](QPainter& painter) {
      QPen pen(Qt::white, 0);
      pen.setCosmetic(true);
      painter.setPen(pen);
      painter.setBrush(Qt::white);
      occupy(painter);
    });
    for (const QRect& rect : furnitureRects(furniture_, viewport()->size())) occupied.take(QRectF(rect));
    for (const Sign& sign : signs_)
      occupied.take(QRectF(sign.at - QPointF(9, 9), QSizeF(sign.count > 1 ? 34 : 18, 18)));
    labels_ = placeLabels(labelWishes(), occupied);
  }
  QRegion dirty;
  const auto add = [&](const PlacedLabel& label) {
    dirty += label.rect.toAlignedRect().adjusted(-2, -2, 2, 2);
    if (label.leaderFrom != label.leaderTo)
      dirty += QRectF(label.leaderFrom, label.leaderTo).normalized().toAlignedRect().adjusted(-2, -2, 2, 2);
  };
  for (const auto& label : before)
    if (std::find(labels_.begin(), labels_.end(), label) == labels_.end()) add(label);
  for (const auto& label : labels_)
    if (std::find(before.begin(), before.end(), label) == before.end()) add(label);
  for (const std::vector<Sign>* signs :
       std::initializer_list<const std::vector<Sign>*>{&signsBefore, &signs_})
    for (const Sign& sign : *signs) dirty += QRect((sign.at - QPointF(12, 12)).toPoint(), QSize(48, 24));
  for (const QRect& rect : furnitureRects(furniture_, viewport()->size())) dirty += rect;
  viewport()->update(dirty);
  tool_->repaint();
}

/// Findings close together on screen show as one sign, the worst, with how many are as grave. A sign steps
/// aside from boxes and outlets, which it would hide.
void CanvasView::layOutSigns() {
  const auto report = document_.report();
  if (!report || !look_.shows(Layer::Findings)) return;
  constexpr double kApart = 20.0;
  const auto apart = [](QPointF a, QPointF b) { return std::hypot(a.x() - b.x(), a.y() - b.y()); };
  std::vector<QPointF> gear;
  for (const auto& [id, item] : canvas_->records())
    if (item->layer() == Layer::Gear && item->isVisible()) gear.push_back(toView(item->pos()));
  const QRectF seen = QRectF(viewport()->rect()).adjusted(-20, -20, 20, 20);
  for (std::size_t i = 0; i < report->findings.size(); ++i) {
    const findings::Finding& finding = report->findings[i];
    if (finding.leftAsIs) continue;
    bool here = true;
    const QPointF scene = findingPlace(finding, here);
    if (!here) continue;
    QPointF at = toView(scene);
    if (!seen.contains(at)) continue;
    if (std::any_of(gear.begin(), gear.end(), [&](QPointF g) { return apart(g, at) < 14.0; }))
      at += QPointF(15, -15);
    if (const auto prop = canvas_->records().find(finding.prop); prop != canvas_->records().end()) {
      constexpr double kSmall = 44.0;  // dots: a prop of that size would be hidden
      const QRectF extent = prop->second->extent(),
                   rect(toView(extent.topLeft()), toView(extent.bottomRight()));
      const QRectF seenProp = rect.normalized();
      if (std::max(seenProp.width(), seenProp.height()) < kSmall && seenProp.contains(at))
        at = seenProp.topRight() + QPointF(7, -7);
    }
    const auto near = std::find_if(signs_.begin(), signs_.end(),
                                   [&](const Sign& sign) { return apart(sign.at, at) < kApart; });
    if (near == signs_.end())
      signs_.push_back({at, scene, finding.severity, i, 1});
    else if (near->severity == finding.severity && finding.severity != findings::Severity::Note)
      ++near->count;
  }
}

std::optional<std::size_t> CanvasView::findingAt(QPoint view) const {
  if (!look_.shows(Layer::Findings)) return std::nullopt;
  for (const Sign& sign : signs_)
    if (std::hypot(sign.at.x() - view.x(), sign.at.y() - view.y()) <= 10.0) return sign.finding;
  return std::nullopt;
}

void CanvasView::addColorKey(Furniture& furniture) const {
  const PixelColors& colors = canvas_->colors();
  if (colors.pixels.empty()) return;
  const yard::Yard& yard = document_.shownYard();
  if (look_.colorBy == ColorBy::Volts) {
    const auto* product = colors.products.size() == 1
                              ? yard::find<yard::Product>(yard, colors.products.begin()->first)
                              : nullptr;
    furniture.low =
        product ? said("canvas_key_low_volts", {{"volts", product->lowestVolts}}) : said("canvas_key_low");
    furniture.high =
        product ? said("canvas_key_high_volts", {{"volts", product->voltage}}) : said("canvas_key_high");
    return;
  }
  constexpr std::size_t kMostEntries = 10;
  const auto& kinds = look_.colorBy == ColorBy::Run ? colors.runs : colors.products;
  for (const auto& [id, code] : kinds)
    if (furniture.entries.size() < kMostEntries)
      furniture.entries.push_back({code, QString::fromStdString(yard::labelOf(yard, id))});
  furniture.more = kinds.size() - furniture.entries.size();
}

}  // namespace yw::ui
