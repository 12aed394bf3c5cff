#include "ui/panels/place_strip.h"

#include <QMenu>
#include <QToolButton>
#include <QVBoxLayout>

#include "ui/panels/place_list.h"

namespace yw::ui {

PlaceStrip::PlaceStrip(QWidget* parent) : QWidget(parent) {
  setObjectName(QStringLiteral("placeStrip"));
  setAccessibleName(tr("Place"));
  column_ = new QVBoxLayout(this);
  column_->setContentsMargins(4, 6, 4, 6);
  column_->setSpacing(4);

  auto* props = addButton(tr("Props ▸"), "placeProps", tr("Place a prop on the ground or on a wall"));
  props->setPopupMode(QToolButton::DelayedPopup);
  list_ = new PlaceList(this);
  connect(list_, &PlaceList::picked, this, &PlaceStrip::propAsked);
  connect(props, &QToolButton::clicked, this, [this, props] {
    list_->fill(metric_ && metric_());
    list_->openBeside(*props);
  });

  auto* ground =
      addButton(tr("Ground ▸"), "placeGround", tr("Draw the house, walks, drives, beds and keep-outs"));
  auto* groundMenu = new QMenu(ground);
  groundMenu->setObjectName(QStringLiteral("groundMenu"));
  const auto& words = yard::words(yard::FeatureKind{});
  for (std::size_t i = 0; i < words.size(); ++i)
    groundMenu->addAction(QString::fromUtf8(words[i].label), this,
                          [this, i] { Q_EMIT groundAsked(static_cast<yard::FeatureKind>(i)); });
  groundMenu->addSeparator();
  groundMenu->addAction(tr("Picture of the yard…"), this, [this] { Q_EMIT pictureAsked(); });
  groundMenu->addAction(tr("Outlines from a file…"), this, [this] { Q_EMIT outlinesAsked(); })
      ->setObjectName(QStringLiteral("groundOutlines"));
  groundMenu->addAction(tr("Spot height"), this, [this] { Q_EMIT gearAsked(yard::RecordKind::SpotHeight); });
  groundMenu->addAction(tr("Audience point"), this,
                        [this] { Q_EMIT gearAsked(yard::RecordKind::AudiencePoint); });
  groundMenu->addAction(tr("Which way is north"), this, [this] { Q_EMIT northAsked(); })
      ->setObjectName(QStringLiteral("groundNorth"));
  ground->setMenu(groundMenu);

  auto* gear = addButton(tr("Gear ▸"), "placeGear", tr("Place a box or an outlet; add what goes into it"));
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
  button->setMinimumHeight(34);
  button->setSizePolicy(QSizePolicy::MinimumExpanding, QSizePolicy::Fixed);
  button->setStyleSheet(QStringLiteral("QToolButton::menu-indicator { image: none; }"));
  button->setFocusPolicy(Qt::TabFocus);
  column_->addWidget(button);
  return button;
}

}  // namespace yw::ui
