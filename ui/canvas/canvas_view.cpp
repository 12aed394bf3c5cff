#include "ui/canvas/canvas_view.h"

#include <QPaintEvent>
#include <QScrollBar>
#include <algorithm>
#include <cmath>

#include "core/base/number_text.h"
#include "core/yard/labels.h"
#include "ui/canvas/accessible.h"
#include "ui/canvas/tools/select_tool.h"
#include "ui/fields/look.h"

namespace yw::ui {

using base::Id;
using papers::Role;

namespace {
constexpr double kLeastScale = 0.002, kMostScale = 12.0;  // logical pixels a mm
constexpr std::int64_t kMostDots = 20'000;                // above it, dots give way to points
constexpr int kMarksSoon = 0;                             // ms: after the events at hand
}  // namespace

CanvasView::CanvasView(Document& document, QWidget* parent) : QGraphicsView(parent), document_(document) {
  installCanvasAccessibility();
  look_.selection = &document.selection();
  look_.theme = &currentTheme();
  setFrameShape(QFrame::NoFrame);
  setTransformationAnchor(
      NoAnchor);  // anchored by hand: the stock anchor drifts when the scene fits the view
  setResizeAnchor(NoAnchor);
  setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  setViewportUpdateMode(MinimalViewportUpdate);
  setOptimizationFlag(DontSavePainterState, false);
  setDragMode(NoDrag);
  setFocusPolicy(Qt::StrongFocus);
  setMouseTracking(true);
  viewport()->setMouseTracking(true);
  setAcceptDrops(true);
  setMinimumSize(200, 150);
  marksTimer_.setSingleShot(true);
  marksTimer_.setInterval(kMarksSoon);
  connect(&marksTimer_, &QTimer::timeout, this, &CanvasView::layOutMarks);
  tool_ = std::make_unique<SelectTool>(*this);
}

CanvasView::~CanvasView() = default;

void CanvasView::adopt(CanvasScene* scene) {
  canvas_ = scene;
  history_ = &document_.history();
  setScene(scene);
  connect(&document_, &Document::yardChanged, this, &CanvasView::yardChanged);
  connect(&document_, &Document::assessed, this, &CanvasView::assessed);
  connect(&document_, &Document::historyChanged, this, [this] { tool_->historyMoved(); });
  connect(&document_, &Document::staleChanged, this, [this](bool stale) {
    look_.stale = stale;
    for (const auto& [key, cable] : canvas_->cables()) cable->update();
  });
  connect(&document_.selection(), &Selection::changed, this, &CanvasView::selectionChanged);
  connect(&document_.selection(), &Selection::revealAsked, this, &CanvasView::revealSelection);
  setScale(0.05);
  canvas_->syncYard();
  canvas_->syncAssessment();
  marksChanged();
}

base::UnitSystem CanvasView::units() const { return yard::settings(document_.shownYard()).units; }

// ---- the document changes

void CanvasView::yardChanged() {
  canvas_->syncYard();
  if (history_ != &document_.history()) {  // another yard, not just another name for this one
    history_ = &document_.history();
    if (!selecting_) setTool(nullptr);
    canvas_->syncAssessment();
    fitAll();
  }
  tool_->yardChanged();
  marksChanged();
}

void CanvasView::assessed() {
  canvas_->syncYard();
  canvas_->syncAssessment();
  tool_->yardChanged();
  marksChanged();
}

void CanvasView::selectionChanged() {
  for (const auto& [id, item] : canvas_->records()) item->update();
  for (const auto& [key, cable] : canvas_->cables()) cable->update();
  marksChanged();
  viewport()->update();
  announceSelection(*this);
}

// ---- moving about

void CanvasView::setScale(double scale) {
  look_.scale = std::clamp(scale, kLeastScale, kMostScale);
  setTransform(QTransform::fromScale(look_.scale, look_.scale));
}

/// Puts a place of the scene under a place of the viewport, to within half a pixel.
void CanvasView::anchor(QPointF scene, QPointF viewport) {
  const QPointF off = toView(scene) - viewport;
  horizontalScrollBar()->setValue(horizontalScrollBar()->value() + static_cast<int>(std::lround(off.x())));
  verticalScrollBar()->setValue(verticalScrollBar()->value() + static_cast<int>(std::lround(off.y())));
}

void CanvasView::zoomAt(double factor, QPointF viewportPlace) {
  // The place under a resting pointer is remembered, so that rounding never adds up over many notches.
  if (!anchor_ || anchor_->second != viewportPlace) anchor_ = {toSceneExact(viewportPlace), viewportPlace};
  const auto held = *anchor_;
  setScale(look_.scale * factor);
  anchor(held.first, held.second);
  anchor_ = held;
  layOutMarks();
  viewport()->update();
  Q_EMIT zoomChanged(look_.scale);
}

void CanvasView::zoomIn() { zoomAt(1.25, QRectF(viewport()->rect()).center()); }
void CanvasView::zoomOut() { zoomAt(0.8, QRectF(viewport()->rect()).center()); }

void CanvasView::centerOnExactly(QPointF scene) {
  anchor(scene, QRectF(viewport()->rect()).center());
  anchor_.reset();
}

void CanvasView::fit(const QRectF& wanted, double margin, double foot) {
  QRectF area = wanted;
  constexpr double kLeast = 1500.0;  // mm: one small thing does not fill the screen
  if (area.width() < kLeast) area.adjust(-(kLeast - area.width()) / 2, 0, (kLeast - area.width()) / 2, 0);
  if (area.height() < kLeast) area.adjust(0, -(kLeast - area.height()) / 2, 0, (kLeast - area.height()) / 2);
  const QSizeF room(std::max(50.0, viewport()->width() - 2 * margin),
                    std::max(50.0, viewport()->height() - 2 * margin - foot));
  setScale(std::min(room.width() / area.width(), room.height() / area.height()));
  centerOnExactly(area.center() + QPointF(0, foot / 2 / look_.scale));
  layOutMarks();
  viewport()->update();
  Q_EMIT zoomChanged(look_.scale);
}

void CanvasView::fitAll() {
  constexpr int kMostFoot = 70;  // a long legend may cover what it must
  int foot = 0;                  // beyond the margin: scale and legend stand there
  for (const QRect& rect : furnitureRects(furniture_, viewport()->size()))
    foot = std::max(foot, viewport()->height() - rect.top() - static_cast<int>(kMargin));
  const QRectF all = canvas_->extentOfAll();
  const QRectF emptyYard(-9000, -9000, 18000, 18000);
  fit(all.isEmpty() ? emptyYard : all, kMargin, std::min(foot, kMostFoot));
  allShown_ = whereItLooks();
}

void CanvasView::widenToAll() {
  const QRectF seen = viewportTransform().inverted().mapRect(QRectF(viewport()->rect()));
  fit(seen.united(canvas_->extentOfAll()), 0.0);
}

CanvasView::Where CanvasView::whereItLooks() const {
  return {look_.scale, horizontalScrollBar()->value(), verticalScrollBar()->value()};
}

void CanvasView::fitSelection() {
  const auto& ids = document_.selection().ids();
  const QRectF extent = canvas_->extentOf(ids);
  if (ids.empty() || extent.isNull())
    fitAll();
  else
    fit(extent, 80.0);
}

void CanvasView::revealSelection() {
  const Selection& selection = document_.selection();
  QRectF extent = canvas_->extentOf(selection.ids());
  if (const PropItem* prop = canvas_->prop(selection.pixelProp()); prop && selection.pixel() > 0)
    extent = QRectF(prop->pixelPlace(selection.pixel()), QSizeF(1, 1));
  if (extent.isNull()) return;
  const QRectF seen = viewportTransform().inverted().mapRect(QRectF(viewport()->rect()));
  if (!seen.contains(extent.center())) centerOnExactly(extent.center());
}

void CanvasView::centerSelection() {
  std::set<Id> ids = document_.selection().ids();
  QRectF extent = canvas_->extentOf(ids);
  if (extent.isNull()) {
    std::set<Id> boxes;
    for (const Id id : ids) boxes.insert(yard::boxOf(document_.shownYard(), id));
    extent = canvas_->extentOf(boxes);
  }
  if (extent.isNull()) return;
  centerOnExactly(extent.center());
  layOutMarks();
}

void CanvasView::setSnaps(bool snaps) {
  if (snaps == snaps_) return;
  snaps_ = snaps;
  tool_->yardChanged();  // what it caught may be free now
  Q_EMIT snapsChanged(snaps);
}

void CanvasView::resizeEvent(QResizeEvent* event) {
  const QPointF middle =
      toSceneExact(QPointF(event->oldSize().width() / 2.0, event->oldSize().height() / 2.0));
  const bool all = canvas_ && selecting_ && allShown_ == whereItLooks();
  QGraphicsView::resizeEvent(event);
  if (!canvas_) return;
  if (fitted_ && event->oldSize().isValid()) {
    if (all)
      fitAll();  // it still shows all, since nobody has looked closer
    else
      centerOnExactly(middle);
  }
  marksChanged();
}

void CanvasView::showEvent(QShowEvent* event) {
  QGraphicsView::showEvent(event);
  if (fitted_) return;
  fitted_ = true;
  fitAll();
}

void CanvasView::scrollContentsBy(int dx, int dy) {
  QGraphicsView::scrollContentsBy(dx, dy);
  anchor_.reset();
  if (!canvas_) return;
  for (PlacedLabel& label : labels_) {
    label.rect.translate(dx, dy);
    label.leaderFrom += QPointF(dx, dy);
    label.leaderTo += QPointF(dx, dy);
  }
  for (Sign& sign : signs_) sign.at += QPointF(dx, dy);
  for (const QRect& rect : furnitureRects(furniture_, viewport()->size())) {
    viewport()->update(rect.adjusted(-2, -2, 2, 2));
    viewport()->update(rect.adjusted(-2, -2, 2, 2).translated(dx, dy));
  }
  if (!selecting_) viewport()->update();
  marksChanged();
}

// ---- how it looks

void CanvasView::setColorBy(ColorBy question) {
  look_.colorBy = question;
  canvas_->syncAssessment();
  marksChanged();
  viewport()->update();
}

void CanvasView::setLook(Theme::Look look) {
  look_.theme = &Theme::of(look);
  viewport()->update();
}

void CanvasView::changeEvent(QEvent* event) {
  QGraphicsView::changeEvent(event);
  if (event->type() == QEvent::PaletteChange) setLook(currentTheme().look);
}

void CanvasView::setLayerShown(Layer layer, bool shown) {
  look_.shown[static_cast<int>(layer)] = shown;
  canvas_->applyLayers();
  marksChanged();
  viewport()->update();
}

void CanvasView::setLayerHeld(Layer layer, bool held) { look_.held[static_cast<int>(layer)] = held; }

void CanvasView::paintEvent(QPaintEvent* event) {
  look_.deviceRatio = viewport()->devicePixelRatioF();
  const QRectF seen = viewportTransform().inverted().mapRect(QRectF(viewport()->rect()));
  look_.dense = canvas_->pixelsIn(seen) > kMostDots;
  QGraphicsView::paintEvent(event);
}

void CanvasView::drawBackground(QPainter* painter, const QRectF& rect) {
  painter->fillRect(rect, look_.color(Role::Paper));
  if (!look_.shows(Layer::Grid)) return;
  const GridStep grid = gridStep(look_.scale, 24.0, units());
  QColor ink = look_.color(Role::Ground);
  ink.setAlphaF(0.35);
  painter->setPen(look_.pen(ink, 0.13));
  for (double x = std::floor(rect.left() / grid.step) * grid.step; x <= rect.right(); x += grid.step)
    painter->drawLine(QPointF(x, rect.top()), QPointF(x, rect.bottom()));
  for (double y = std::floor(rect.top() / grid.step) * grid.step; y <= rect.bottom(); y += grid.step)
    painter->drawLine(QPointF(rect.left(), y), QPointF(rect.right(), y));
}

void CanvasView::drawForeground(QPainter* painter, const QRectF&) {
  painter->save();
  painter->setWorldTransform(QTransform());
  painter->setRenderHint(QPainter::Antialiasing);
  if (look_.shows(Layer::Labels)) {
    QColor halo = look_.color(Role::Paper);
    halo.setAlphaF(0.8);
    for (const PlacedLabel& label : labels_) {
      if (label.leaderFrom != label.leaderTo) {
        painter->setPen(QPen(look_.color(Role::SecondInk), 0.8));
        painter->drawLine(label.leaderFrom, label.leaderTo);
      }
      painter->fillRect(label.rect, halo);
      painter->setFont(typeFace(label.loud ? TypeSize::Id : TypeSize::Text, label.loud));
      painter->setPen(look_.color(label.loud ? Role::Accent : Role::Ink));
      painter->drawText(label.rect, Qt::AlignCenter, label.text);
    }
  }
  if (look_.shows(Layer::Findings))
    for (auto sign = signs_.rbegin(); sign != signs_.rend(); ++sign) {
      paintSign(*painter, look_, sign->severity, sign->at);
      if (sign->count < 2) continue;
      painter->setFont(typeFace(TypeSize::Note, true));
      painter->setPen(look_.color(Role::Ink));
      painter->drawText(sign->at + QPointF(8, 4), QStringLiteral("×%1").arg(sign->count));
    }
  paintFurniture(*painter, look_, furniture_, viewport()->size());
  tool_->paint(*painter);
  if (hasFocus() && document_.selection().ids().empty()) {  // where the keys go must be seen
    painter->setPen(QPen(look_.color(Role::Accent), 1));
    painter->setBrush(Qt::NoBrush);
    painter->drawRect(viewport()->rect().adjusted(0, 0, -1, -1));
  }
  painter->restore();
}

QString CanvasView::placeText(QPointF scene) const { return wayWords(pointOf(scene), units()); }

Snapper CanvasView::snapper(const std::set<Id>& without) const {
  Snapper made;
  if (!snaps_) return made;
  made.setPoints(catches(without));
  const GridStep grid = gridStep(look_.scale, 7.0, units());
  made.setGrid(grid.step, grid.name);
  return made;
}

std::pair<Id, std::int64_t> CanvasView::pixelAt(QPointF scene) const {
  for (const Id id : canvas_->idsAt(scene, reach(), true))
    if (const PropItem* prop = canvas_->prop(id))
      if (const std::int64_t pixel =
              prop->pixelAt(scene, std::max(reach() * 1.5, prop->drawing()->pitch * 0.6)))
        return {id, pixel};
  return {};
}

}  // namespace yw::ui
