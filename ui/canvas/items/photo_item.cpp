#include "ui/canvas/items/photo_item.h"

#include <QBuffer>
#include <QImageReader>
#include <QPainter>
#include <QStyleOptionGraphicsItem>
#include <algorithm>

namespace yw::ui {

base::Length shownPhotoWidth(base::Length width) { return width ? width : kUnscaledPhotoWidth; }

QImage readPicture(const std::string& bytes) {
  QByteArray data = QByteArray::fromRawData(bytes.data(), static_cast<qsizetype>(bytes.size()));
  QBuffer buffer(&data);
  buffer.open(QIODevice::ReadOnly);
  QImageReader reader(&buffer);
  reader.setAutoTransform(true);
  constexpr int kMost = 4096;  // Qt refuses pictures over 128 MB unpacked: larger ones are read smaller
  const QSize size = reader.size();
  if (size.isValid() && std::max(size.width(), size.height()) > kMost)
    reader.setScaledSize(size.scaled(kMost, kMost, Qt::KeepAspectRatio));
  return reader.read();
}

PhotoItem::PhotoItem(const Look& look, base::Id id) : CanvasItem(look, id, Layer::Photo) {
  setZValue(-100);
  setFlag(ItemUsesExtendedStyleOption);
}

void PhotoItem::setPhoto(const yard::Yard& yard, const yard::Site& site) {
  setPicture(yard, site.photo, site.photoAt, site.photoWidth, site.photoFade);
}

void PhotoItem::setPhoto(const yard::Yard& yard, const yard::Wall& wall) {
  setPicture(yard, wall.photo, wall.photoAt, wall.photoWidth, wall.photoFade);
}

void PhotoItem::setPicture(const yard::Yard& yard, const std::string& key, base::Point at, base::Length width,
                           std::int64_t fade) {
  prepareGeometryChange();
  if (key != key_) {
    key_ = key;
    levels_.clear();
    const auto blob = yard.blobs.find(key_);
    QImage picture = blob == yard.blobs.end() ? QImage() : readPicture(*blob->second);
    if (!picture.isNull()) {
      picture = picture.convertToFormat(QImage::Format_RGB32);
      ratio_ = static_cast<double>(picture.height()) / picture.width();
      levels_.push_back(picture);
      while (std::min(levels_.back().width(), levels_.back().height()) > 256)
        levels_.push_back(levels_.back().scaled(levels_.back().size() / 2, Qt::IgnoreAspectRatio,
                                                Qt::SmoothTransformation));
    }
  }
  const double wide = base::metres(shownPhotoWidth(width)).si * 1e3, high = wide * ratio_;
  const QPointF lower = toScene(at);
  place_ = levels_.empty() ? QRectF() : QRectF(lower.x(), lower.y() - high, wide, high);
  setOpacity(1.0 - static_cast<double>(std::clamp<std::int64_t>(fade, 0, 100)) / 100.0);
  update();
}

void PhotoItem::paint(QPainter* painter, const QStyleOptionGraphicsItem* option, QWidget*) {
  if (levels_.empty() || !look().shows(Layer::Photo)) return;
  const double wanted = place_.width() * scaleOf(*painter) * look().deviceRatio;
  std::size_t level = 0;
  while (level + 1 < levels_.size() && levels_[level + 1].width() >= wanted) ++level;
  const QImage& picture = levels_[level];
  const double perMm = picture.width() / place_.width();
  const QRectF seen = option->exposedRect.intersected(place_);
  const QRectF source((seen.topLeft() - place_.topLeft()) * perMm, seen.size() * perMm);
  painter->setRenderHint(QPainter::SmoothPixmapTransform);
  painter->drawImage(seen, picture, source);
}

}  // namespace yw::ui
