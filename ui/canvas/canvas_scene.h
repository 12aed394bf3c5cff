#pragma once
#include <QGraphicsScene>
#include <QVariantAnimation>
#include <functional>
#include <map>
#include <optional>
#include <set>
#include <vector>

#include "ui/canvas/items/cable_item.h"
#include "ui/canvas/items/pixel_colors.h"
#include "ui/canvas/items/prop_item.h"
#include "ui/canvas/look.h"
#include "ui/document/document.h"

namespace yw::ui {

/// What one view shows of the document. It listens and redraws; it changes nothing.
class CanvasScene : public QGraphicsScene {
  Q_OBJECT
 public:
  CanvasScene(Document& document, Look& look, QObject* parent = nullptr);

  /// Items follow shownYard(); only records that are others than last time are looked at.
  virtual void syncYard() = 0;
  /// Cables, colors and marks follow the newest assessment.
  virtual void syncAssessment() = 0;

  Document& document() const { return document_; }
  Look& look() const { return look_; }
  CanvasItem* item(base::Id id) const;
  PropItem* prop(base::Id id) const;
  const std::map<base::Id, CanvasItem*>& records() const { return items_; }
  const std::map<routes::CableKey, CableItem*>& cables() const { return cables_; }
  const PixelColors& colors() const { return colors_; }

  /// Ids under a place, topmost first, each once; held ones only if `heldToo`.
  std::vector<base::Id> idsAt(QPointF scene, double reach, bool heldToo = false) const;
  /// Ids that a rubber band takes: enclosed, or touched.
  std::set<base::Id> idsIn(const QRectF& rect, bool touched) const;
  QRectF extentOf(const std::set<base::Id>& ids) const;
  QRectF extentOfAll() const;
  /// Pixels of the props that lie in the rectangle, by their extents.
  std::int64_t pixelsIn(const QRectF& rect) const;
  /// True: magnitudes flow to their new values in 150 ms, so that what a change did is seen.
  void setMotion(bool motion) { motion_ = motion; }
  /// Applies Look::shown to the items.
  void applyLayers();

 protected:
  /// Shape of a prop as shown: lent by the assessment while sizes are the same, made anew while they change.
  routes::ShapePtr shapeOf(base::Id id, const yard::Prop& prop);
  template <class Item, class... Args>
  Item* obtain(base::Id id, Args&&... args) {
    auto& slot = items_[id];
    if (auto* same = dynamic_cast<Item*>(slot)) return same;
    delete slot;
    auto* made = new Item(look_, id, std::forward<Args>(args)...);
    slot = made;
    addItem(made);
    made->setVisible(look_.shows(made->layer()));
    return made;
  }
  void drop(base::Id id);
  /// Records that were added, changed or removed since the last call.
  std::vector<base::Id> changedRecords();
  /// Cables follow the assessment; items whose way is the same are kept. `flatten` gives the line as this
  /// view sees it.
  void syncCables(const std::function<QPolygonF(const routes::RoutedCable&)>& flatten);
  void syncColors();

  std::map<base::Id, CanvasItem*> items_;
  std::map<routes::CableKey, CableItem*> cables_;
  PixelColors colors_;
  std::map<base::Id, std::pair<routes::ShapePtr, PropDrawingPtr>>
      drawn_;  ///< shape and what was drawn from it

 private:
  void flowTo(const std::map<base::Id, std::vector<std::uint8_t>>& codes);
  Document& document_;
  Look& look_;
  yard::Yard seen_;
  bool motion_ = false;
  QVariantAnimation flow_;
  std::map<base::Id, std::pair<std::vector<std::uint8_t>, std::vector<std::uint8_t>>> flowing_;  ///< from, to
  struct MadeShape {
    yard::RecordPtr record;
    routes::ShapePtr shape;
  };
  std::map<base::Id, MadeShape> made_;
};

}  // namespace yw::ui
