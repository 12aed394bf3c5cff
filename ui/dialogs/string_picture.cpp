#include "ui/dialogs/string_picture.h"

#include <QMouseEvent>
#include <QPainter>
#include <algorithm>
#include <cmath>

#include "ui/fields/look.h"

namespace yw::ui {

using papers::Role;

StringPicture::StringPicture(QWidget* parent) : QWidget(parent) {
  setObjectName(QStringLiteral("string_picture"));
  setAccessibleName(tr("Pixels in the order of the string"));
  setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Expanding);
  setMouseTracking(true);
}

void StringPicture::show(std::vector<base::Vec3> places, std::vector<std::size_t> order, double reach) {
  places_ = std::move(places);
  order_ = std::move(order);
  reach_ = reach;
  dragged_ = -1;
  update();
}

QPointF StringPicture::placeOf(std::size_t n) const {
  double x0 = 1e9, x1 = -1e9, z0 = 1e9, z1 = -1e9;
  for (const base::Vec3& p : places_) {
    x0 = std::min(x0, p.x), x1 = std::max(x1, p.x);
    z0 = std::min(z0, p.z), z1 = std::max(z1, p.z);
  }
  const double room = 26, scale = std::min((width() - 2 * room) / std::max(x1 - x0, 1e-6),
                                           (height() - 2 * room) / std::max(z1 - z0, 1e-6));
  const base::Vec3& p = places_[order_[n]];
  return {width() / 2.0 + (p.x - (x0 + x1) / 2) * scale, height() / 2.0 - (p.z - (z0 + z1) / 2) * scale};
}

std::ptrdiff_t StringPicture::nearest(QPointF at) const {
  std::ptrdiff_t best = -1;
  double away = 14;
  for (std::size_t n = 0; n < order_.size(); ++n) {
    const QPointF off = placeOf(n) - at;
    const double far = std::hypot(off.x(), off.y());
    if (far < away) away = far, best = static_cast<std::ptrdiff_t>(n);
  }
  return best;
}

void StringPicture::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  const Theme& theme = currentTheme();
  painter.fillRect(rect(), theme.color(Role::Paper));
  if (order_.empty()) return;
  painter.setRenderHint(QPainter::Antialiasing);
  std::vector<QPointF> at;
  for (std::size_t n = 0; n < order_.size(); ++n) at.push_back(placeOf(n));
  for (std::size_t n = 1; n < at.size(); ++n) {
    const bool tooLong =
        reach_ > 0 && base::distance(places_[order_[n - 1]], places_[order_[n]]) > reach_ + 1e-9;
    painter.setPen(QPen(theme.color(tooLong ? Role::Danger : Role::SecondInk), tooLong ? 2.0 : 1.0,
                        tooLong ? Qt::DashLine : Qt::SolidLine));
    painter.drawLine(at[n - 1], at[n]);
  }
  double apart = 1e9;  // numbers only where they have room
  for (std::size_t n = 1; n < at.size(); ++n)
    apart = std::min(apart, std::hypot(at[n].x() - at[n - 1].x(), at[n].y() - at[n - 1].y()));
  const std::size_t every = apart > 20 ? 1 : apart > 9 ? 5 : 25;
  for (std::size_t n = 0; n < at.size(); ++n) {
    const bool marked = static_cast<std::ptrdiff_t>(n) == dragged_;
    painter.setPen(Qt::NoPen);
    painter.setBrush(theme.color(marked ? Role::Accent : Role::Ink));
    painter.drawEllipse(at[n], marked ? 5.0 : 3.0, marked ? 5.0 : 3.0);
    if (n != 0 && n + 1 != at.size() && (n + 1) % every != 0 && !marked) continue;
    painter.setPen(theme.color(marked ? Role::Accent : Role::Ink));
    painter.drawText(at[n] + QPointF(5, -4), QString::number(n + 1));
  }
  if (dragged_ < 0) return;
  painter.setPen(QPen(theme.color(Role::Accent), 1.5, Qt::DashLine));
  painter.drawLine(at[static_cast<std::size_t>(dragged_)], pointer_);
}

void StringPicture::mousePressEvent(QMouseEvent* event) {
  if (event->button() != Qt::LeftButton) return;
  dragged_ = nearest(event->position());
  pointer_ = event->position();
  update();
}

void StringPicture::mouseMoveEvent(QMouseEvent* event) {
  pointer_ = event->position();
  const auto under = nearest(pointer_);
  setToolTip(under < 0 ? QString() : tr("Pixel %1").arg(under + 1));
  if (dragged_ >= 0) update();
}

void StringPicture::mouseReleaseEvent(QMouseEvent* event) {
  const std::ptrdiff_t from = std::exchange(dragged_, -1), to = nearest(event->position());
  update();
  if (from >= 0 && to >= 0 && from != to)
    Q_EMIT moveAsked(static_cast<std::size_t>(from), static_cast<std::size_t>(to),
                     event->modifiers() & Qt::ShiftModifier);
}

}  // namespace yw::ui
