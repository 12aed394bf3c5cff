#pragma once
#include <QImage>
#include <memory>
#include <string>
#include <vector>

#include "core/yard/yard.h"
#include "ui/canvas/items/canvas_item.h"

namespace yw::ui {

/// Width the picture is shown with until the person has scaled it.
inline constexpr base::Length kUnscaledPhotoWidth{30'000'000'000};
base::Length shownPhotoWidth(base::Length width);

/// A picture of the yard from above, or of a wall face-on: under everything, held still.
class PhotoItem : public CanvasItem {
 public:
  PhotoItem(const Look& look, base::Id id);
  /// Reads the picture again only if its bytes are others.
  void setPhoto(const yard::Yard& yard, const yard::Site& site);
  void setPhoto(const yard::Yard& yard, const yard::Wall& wall);
  double heightToWidth() const { return ratio_; }
  bool empty() const { return levels_.empty(); }

  bool hit(QPointF, double) const override { return false; }
  QRectF extent() const override { return place_; }
  bool touches(const QRectF&) const override { return false; }
  QRectF boundingRect() const override { return place_; }
  void paint(QPainter* painter, const QStyleOptionGraphicsItem* option, QWidget* widget) override;

 private:
  void setPicture(const yard::Yard& yard, const std::string& key, base::Point at, base::Length width,
                  std::int64_t fade);
  std::string key_;
  std::vector<QImage> levels_;  ///< halved again and again, so that far views stay quick and calm
  double ratio_ = 1.0;
  QRectF place_;
};

/// The picture's bytes as an image no larger than is useful on screen; null if they are no picture.
QImage readPicture(const std::string& bytes);

}  // namespace yw::ui
