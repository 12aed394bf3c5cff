#include "ui/panels/place_list.h"

#include <QDrag>
#include <QKeyEvent>
#include <QMimeData>
#include <QMouseEvent>
#include <QPainter>
#include <QScreen>
#include <algorithm>

#include "core/base/number_text.h"
#include "core/file/my_props.h"
#include "core/shapes/shape.h"
#include "ui/canvas/canvas_view.h"
#include "ui/fields/look.h"

namespace yw::ui {

namespace {

using papers::Role;

constexpr int kPicture = 54, kTileWidth = 158, kTileHeight = 104, kColumns = 4;

QString sizeText(const shapes::Shape& shape, bool metric) {
  const auto units = metric ? base::UnitSystem::Metric : base::UnitSystem::FeetInches;
  // To the inch or the centimeter: it only tells the kinds apart.
  const std::int64_t step = metric ? 10'000'000 : base::kNanometresPerInch;
  const base::Length size{(std::max(shape.width, shape.height).count + step / 2) / step * step};
  const QString text = QString::fromStdString(base::lengthText(size, units));
  if (shape.pixels.size() == 1) return PlaceList::tr("%1, 1 pixel").arg(text);
  return PlaceList::tr("%1, %2 pixels").arg(text).arg(shape.pixels.size());
}

}  // namespace

QPixmap shapePicture(const std::string& kind, int size, double ratio) {
  return shapePicture(shapes::usualProp(kind), size, ratio);
}

QPixmap shapePicture(const yard::Prop& prop, int size, double ratio) {
  QPixmap picture(QSize(size, size) * ratio);
  picture.setDevicePixelRatio(ratio);
  picture.fill(Qt::transparent);
  const auto shape = shapes::make(prop);
  if (!shape || shape->pixels.empty()) return picture;
  double x0 = 1e9, x1 = -1e9, z0 = 1e9, z1 = -1e9;
  const auto grow = [&](const base::Vec3& p) {
    x0 = std::min(x0, p.x), x1 = std::max(x1, p.x), z0 = std::min(z0, p.z), z1 = std::max(z1, p.z);
  };
  for (const auto& p : shape->pixels) grow(p);
  for (const auto& line : shape->frame)
    for (const auto& p : line) grow(p);
  const double scale = (size - 6) / std::max({x1 - x0, z1 - z0, 1e-6});
  const auto at = [&](const base::Vec3& p) {
    return QPointF(size / 2.0 + (p.x - (x0 + x1) / 2) * scale, size / 2.0 - (p.z - (z0 + z1) / 2) * scale);
  };
  QPainter painter(&picture);
  painter.setRenderHint(QPainter::Antialiasing);
  const Theme& theme = currentTheme();
  painter.setPen(QPen(theme.color(Role::SecondInk), 0.8));
  for (const auto& line : shape->frame)
    for (std::size_t i = 1; i < line.size(); ++i) painter.drawLine(at(line[i - 1]), at(line[i]));
  painter.setPen(Qt::NoPen);
  painter.setBrush(theme.color(Role::Ink));
  const std::size_t stride = std::max<std::size_t>(1, shape->pixels.size() / 160);
  for (std::size_t i = 0; i < shape->pixels.size(); i += stride)
    painter.drawEllipse(at(shape->pixels[i]), 1.1, 1.1);
  return picture;
}

PlaceList::PlaceList(QWidget* parent) : QListWidget(parent) {
  setWindowFlags(Qt::Popup);
  setObjectName(QStringLiteral("placeList"));
  setAccessibleName(tr("Props to place"));
  setViewMode(QListView::IconMode);
  setMovement(QListView::Static);
  setResizeMode(QListView::Adjust);
  setIconSize(QSize(kPicture, kPicture));
  setGridSize(QSize(kTileWidth, kTileHeight));
  setDragEnabled(true);
  setDragDropMode(QAbstractItemView::DragOnly);
  setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  connect(this, &QListWidget::itemClicked, this, &PlaceList::take);
}

void PlaceList::addTile(const yard::Prop& prop, const QString& name, const QString& data, const QString& tip,
                        bool metric) {
  const auto shape = shapes::make(prop);
  const QString text = shape ? name + QLatin1Char('\n') + sizeText(*shape, metric) : name;
  auto* item = new QListWidgetItem(QIcon(shapePicture(prop, kPicture, devicePixelRatioF())), text, this);
  item->setSizeHint(QSize(kTileWidth, kTileHeight));
  item->setData(Qt::UserRole, data);
  item->setData(Qt::AccessibleTextRole, QString(text).replace(QLatin1Char('\n'), QStringLiteral(", ")));
  item->setToolTip(tip);
}

void PlaceList::fill(bool metric) {
  clear();
  if (const auto library = file::readMyProps(file::myPropsFile()))  // else My props says why
    for (const auto& [id, prop] : yard::all<yard::Prop>(*library))
      addTile(*prop, tr("%1 (mine)").arg(QString::fromStdString(prop->name)),
              QStringLiteral("mine:%1").arg(id.value), tr("One of my props, with its own sizes and pixel"),
              metric);
  for (const shapes::Kind& kind : shapes::kinds())
    addTile(shapes::usualProp(kind.name), QString::fromStdString(kind.label),
            QString::fromStdString(kind.name), QString::fromStdString(kind.help), metric);
  setCurrentRow(0);
}

void PlaceList::openBeside(const QWidget& anchor) {
  const QRect room = anchor.screen()->availableGeometry();
  const int rows = (count() + kColumns - 1) / kColumns;
  const int frame = 2 * frameWidth() + 4;
  resize(kColumns * kTileWidth + frame + 16, std::min(rows * kTileHeight + frame, room.height() - 40));
  QPoint at = anchor.mapToGlobal(QPoint(anchor.width() + 2, 0));
  at.setX(std::max(room.left(), std::min(at.x(), room.right() - width())));
  at.setY(std::max(room.top(), std::min(at.y(), room.bottom() - height())));
  move(at);
  show();
  scrollToTop();  // the first row was made current before the list had its size
  setFocus(Qt::PopupFocusReason);
}

void PlaceList::take(QListWidgetItem* item) {
  if (!item) return;
  hide();
  Q_EMIT picked(item->data(Qt::UserRole).toString());
}

void PlaceList::keyPressEvent(QKeyEvent* event) {
  if (event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter) {
    take(currentItem());
    return;
  }
  if (event->key() == Qt::Key_Escape) {
    hide();
    return;
  }
  QListWidget::keyPressEvent(event);
}

// A list that is a popup gets every press, but passes none on: without this one outside would not close it.
void PlaceList::mousePressEvent(QMouseEvent* event) {
  if (!rect().contains(mapFromGlobal(event->globalPosition().toPoint()))) {
    hide();
    return;
  }
  QListWidget::mousePressEvent(event);
}

QStringList PlaceList::mimeTypes() const { return {QLatin1String(CanvasView::kPlaceMime)}; }

QMimeData* PlaceList::mimeData(const QList<QListWidgetItem*>& items) const {
  auto* data = new QMimeData;
  if (!items.isEmpty())
    data->setData(QLatin1String(CanvasView::kPlaceMime),
                  "prop:" + items.first()->data(Qt::UserRole).toByteArray());
  return data;
}

void PlaceList::startDrag(Qt::DropActions) {
  QListWidgetItem* item = currentItem();
  if (!item) return;
  auto* drag = new QDrag(parentWidget());
  drag->setMimeData(mimeData({item}));
  drag->setPixmap(item->icon().pixmap(kPicture));
  drag->setHotSpot(QPoint(kPicture / 2, kPicture / 2));
  hide();  // it would lie over the place to drop
  drag->exec(Qt::CopyAction);
}

}  // namespace yw::ui
