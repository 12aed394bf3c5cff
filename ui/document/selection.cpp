#include "ui/document/document.h"

namespace yw::ui {

void Selection::set(std::set<base::Id> ids) {
  ids.erase(base::Id{});
  const bool keepsPixel = pixelProp_ && ids.size() == 1 && ids.contains(pixelProp_);
  if (ids == ids_ && (keepsPixel || !pixelProp_)) return;
  ids_ = std::move(ids);
  if (!keepsPixel) {
    pixelProp_ = {};
    pixel_ = 0;
  }
  Q_EMIT changed();
}

void Selection::add(base::Id id) {
  auto ids = ids_;
  ids.insert(id);
  set(std::move(ids));
}

void Selection::toggle(base::Id id) {
  auto ids = ids_;
  if (!ids.erase(id)) ids.insert(id);
  set(std::move(ids));
}

void Selection::setPixel(base::Id prop, std::int64_t pixel) {
  if (!pixel) prop = {};
  if (prop == pixelProp_ && pixel == pixel_ && (!prop || ids_ == std::set{prop})) return;
  pixelProp_ = prop;
  pixel_ = pixel;
  if (prop) ids_ = {prop};
  Q_EMIT changed();
}

void Selection::reveal() { Q_EMIT revealAsked(); }

}  // namespace yw::ui
