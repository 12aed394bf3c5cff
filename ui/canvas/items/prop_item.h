#pragma once
#include <vector>

#include "ui/canvas/items/canvas_item.h"
#include "ui/canvas/items/prop_drawing.h"

namespace yw::ui {

/// One prop: its footprint and frame, its pixels in the color of the question, its ends where data goes in
/// and out.
class PropItem : public CanvasItem {
 public:
  PropItem(const Look& look, base::Id id);

  void setDrawing(PropDrawingPtr drawing);
  const PropDrawingPtr& drawing() const { return drawing_; }
  /// `turn`: degrees anticlockwise on screen.
  void setPlace(QPointF scene, double turn);
  void setStatus(bool planned, bool absent);
  /// One code a pixel (pixel_code); shorter means: the rest is not wired.
  void setCodes(std::vector<std::uint8_t> codes);
  /// Kind and dash of the outline where colors answer 'which run' or 'which product'; kUnwired: plain ink.
  void setOutlineCode(std::uint8_t code);

  /// The pixel (1-based) nearest to a place of the scene within `reach` mm; 0: none.
  std::int64_t pixelAt(QPointF scene, double reach) const;
  QPointF pixelPlace(std::int64_t pixel) const;  ///< in the scene
  std::uint8_t code(std::int64_t pixel) const;
  const std::vector<std::uint8_t>& codes() const { return codes_; }

  bool hit(QPointF scene, double reach) const override;
  QRectF extent() const override { return extent_; }
  bool touches(const QRectF& rect) const override;
  QRectF boundingRect() const override;
  void paint(QPainter* painter, const QStyleOptionGraphicsItem* option, QWidget* widget) override;

 private:
  void paintBody(QPainter& painter) const;
  void paintString(QPainter& painter) const;
  void paintPixels(QPainter& painter, const QRectF& exposed) const;
  void paintPoints(QPainter& painter, const QRectF& device) const;
  void paintDots(QPainter& painter, const QRectF& device, double diameter) const;
  void paintClose(QPainter& painter, const QRectF& device, double pitch) const;
  void paintNumber(QPainter& painter, QPointF at, double away, bool above, std::int64_t first,
                   std::int64_t last, std::int64_t marked) const;
  void paintEnds(QPainter& painter) const;
  void remeasure();

  PropDrawingPtr drawing_;
  std::vector<std::uint8_t> codes_;
  std::uint8_t outlineCode_ = pixel_code::kUnwired;
  bool planned_ = false, absent_ = false;
  QRectF extent_;
};

/// The dash that goes with a kind's color, so that color is never alone.
papers::Dash dashOfKind(std::uint8_t code);

}  // namespace yw::ui
