#include "ui/panels/place_strip.h"

#include <QMenu>
#include <QPainter>
#include <QToolButton>
#include <QVBoxLayout>
#include <algorithm>

#include "core/shapes/shape.h"
#include "ui/fields/look.h"

namespace yw::ui {

using papers::Role;

QPixmap shapePicture(const std::string& kind, int size, double ratio) {
  QPixmap picture(QSize(size, size) * ratio);
  picture.setDevicePixelRatio(ratio);
  picture.fill(Qt::transparent);
  const auto shape = shapes::make(shapes::usualProp(kind));
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

PlaceStrip::PlaceStrip(QWidget* parent) : QWidget(parent) {
  setObjectName(QStringLiteral("placeStrip"));
  setAccessibleName(tr("Place"));
  column_ = new QVBoxLayout(this);
  column_->setContentsMargins(4, 6, 4, 6);
  column_->setSpacing(4);

  auto* props = addButton(tr("Props"), "placeProps", tr("Place a prop on the ground or on a wall"));
  auto* propMenu = new QMenu(props);
  propMenu->setObjectName(QStringLiteral("propsMenu"));
  connect(propMenu, &QMenu::aboutToShow, this, [this, propMenu] { fillProps(*propMenu); });
  props->setMenu(propMenu);

  auto* ground =
      addButton(tr("Ground"), "placeGround", tr("Draw the house, walks, drives, beds and keep-outs"));
  auto* groundMenu = new QMenu(ground);
  groundMenu->setObjectName(QStringLiteral("groundMenu"));
  const auto& words = yard::words(yard::FeatureKind{});
  for (std::size_t i = 0; i < words.size(); ++i)
    groundMenu->addAction(QString::fromUtf8(words[i].label), this,
                          [this, i] { Q_EMIT groundAsked(static_cast<yard::FeatureKind>(i)); });
  groundMenu->addSeparator();
  groundMenu->addAction(tr("Picture of the yard…"), this, [this] { Q_EMIT pictureAsked(); });
  groundMenu->addAction(tr("Spot height"), this, [this] { Q_EMIT gearAsked(yard::RecordKind::SpotHeight); });
  groundMenu->addAction(tr("Audience point"), this,
                        [this] { Q_EMIT gearAsked(yard::RecordKind::AudiencePoint); });
  ground->setMenu(groundMenu);

  auto* gear = addButton(tr("Gear"), "placeGear", tr("Place a box or an outlet; add what goes into it"));
  auto* gearMenu = new QMenu(gear);
  gearMenu->setObjectName(QStringLiteral("gearMenu"));
  using yard::RecordKind;
  for (const RecordKind kind : {RecordKind::Box, RecordKind::Outlet, RecordKind::OtherLoad})
    gearMenu->addAction(QString::fromUtf8(yard::label(kind)), this, [this, kind] { Q_EMIT gearAsked(kind); });
  gearMenu->addSeparator();
  for (const RecordKind kind :
       {RecordKind::Supply, RecordKind::Controller, RecordKind::Receiver, RecordKind::HouseCircuit})
    gearMenu->addAction(tr("%1…").arg(QString::fromUtf8(yard::label(kind))), this,
                        [this, kind] { Q_EMIT gearAsked(kind); });
  gear->setMenu(gearMenu);

  column_->addSpacing(10);
  connect(addButton(tr("Run"), "pullRunTool", tr("Pull a run from a port through props")),
          &QToolButton::clicked, this, &PlaceStrip::runAsked);
  connect(addButton(tr("Feed"), "feedTool", tr("Put a feed by a click on a run")), &QToolButton::clicked,
          this, &PlaceStrip::feedAsked);
  connect(addButton(tr("Measure"), "measureTool", tr("Distance between two clicks")), &QToolButton::clicked,
          this, &PlaceStrip::measureAsked);
  column_->addStretch(1);
}

QToolButton* PlaceStrip::addButton(const QString& text, const char* name, const QString& tip) {
  auto* button = new QToolButton(this);
  button->setObjectName(QLatin1String(name));
  button->setText(text);
  button->setToolTip(tip);
  button->setAccessibleName(tip);
  button->setToolButtonStyle(Qt::ToolButtonTextOnly);
  button->setPopupMode(QToolButton::InstantPopup);
  button->setMinimumSize(64, 34);
  button->setFocusPolicy(Qt::TabFocus);
  column_->addWidget(button);
  return button;
}

void PlaceStrip::fillProps(QMenu& menu) {
  menu.clear();
  for (const shapes::Kind& kind : shapes::kinds()) {
    const auto shape = shapes::make(shapes::usualProp(kind.name));
    const QString name = QString::fromStdString(kind.label);
    const QString text = shape ? tr("%1   %2 pixels").arg(name).arg(shape->pixels.size()) : name;
    QAction* action =
        menu.addAction(QIcon(shapePicture(kind.name, 40, devicePixelRatioF())), text, this,
                       [this, key = QString::fromStdString(kind.name)] { Q_EMIT propAsked(key); });
    action->setObjectName(QStringLiteral("place_") + QString::fromStdString(kind.name));
    action->setToolTip(QString::fromStdString(kind.help));
  }
  menu.setToolTipsVisible(true);
  menu.setStyleSheet(QStringLiteral("QMenu { icon-size: 40px; } QMenu::item { padding: 3px 18px 3px 8px; }"));
}

}  // namespace yw::ui
