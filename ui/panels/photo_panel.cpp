#include "ui/panels/photo_panel.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QSlider>
#include <QVBoxLayout>
#include <cmath>

#include "ui/panels/edits.h"

namespace yw::ui {

PhotoPanel::PhotoPanel(Document& document, QWidget* parent) : QWidget(parent), document_(document) {
  setObjectName(QStringLiteral("photoPanel"));
  auto* column = new QVBoxLayout(this);
  whose_ = new QLabel(this);
  whose_->setObjectName(QStringLiteral("photoWhose"));
  facts_ = new QLabel(this);
  facts_->setObjectName(QStringLiteral("photoFacts"));
  facts_->setWordWrap(true);
  facts_->setProperty("ink", "second");
  column->addWidget(whose_);
  column->addWidget(facts_);
  const auto button = [&](const char* name, auto act) {
    auto* made = new QPushButton(this);
    made->setObjectName(QLatin1String(name));
    made->setMinimumHeight(28);
    column->addWidget(made);
    connect(made, &QPushButton::clicked, this, act);
    return made;
  };
  choose_ = button("photoChoose", [this] { Q_EMIT pictureAsked(wall_); });
  scale_ = button("photoScale", [this] { Q_EMIT scaleAsked(wall_, false); });
  check_ = button("photoCheck", [this] { Q_EMIT scaleAsked(wall_, true); });
  move_ = button("photoMove", [this] { Q_EMIT moveAsked(wall_); });
  move_->setText(tr("Move it: click a place, then where it belongs"));
  scale_->setText(tr("Scale it: click two ends, type the distance"));
  check_->setText(tr("Check it by a third distance"));
  auto* row = new QHBoxLayout;
  column->addLayout(row);
  fadeText_ = new QLabel(this);
  fade_ = new QSlider(Qt::Horizontal, this);
  fade_->setObjectName(QStringLiteral("photoFade"));
  fade_->setAccessibleName(tr("Fade of the picture, percent"));
  fade_->setRange(0, 95);
  fade_->setPageStep(10);
  fade_->setMinimumHeight(24);
  row->addWidget(fadeText_);
  row->addWidget(fade_, 1);
  connect(fade_, &QSlider::valueChanged, this, &PhotoPanel::setFade);
  remove_ = button("photoRemove", [this] { removePicture(); });
  remove_->setText(tr("Take the picture away"));
  column->addStretch(1);
  connect(&document_, &Document::yardChanged, this, &PhotoPanel::refresh);
  connect(&document_, &Document::fileChanged, this, &PhotoPanel::refresh);
  refresh();
}

void PhotoPanel::setWall(base::Id wall) {
  if (wall == wall_) return;
  wall_ = wall;
  refresh();
}

std::string PhotoPanel::key() const {
  const yard::Yard& yard = document_.shownYard();
  const auto* wall = yard::find<yard::Wall>(yard, wall_);
  return wall ? wall->photo : yard::site(yard).photo;
}

QString PhotoPanel::facts() const {
  const yard::Yard& yard = document_.shownYard();
  if (key().empty())
    return wall_
               ? tr("No picture yet. A photo taken square to the wall lets you draw windows, doors and eaves "
                    "over it.")
               : tr("No picture yet. A picture from above, or a page of a plan, lets you draw over it.");
  QStringList lines;
  const auto* wall = yard::find<yard::Wall>(yard, wall_);
  const yard::Site& site = yard::site(yard);
  lines << tr("%1 wide. It lies under everything and holds still.")
               .arg(factText(wall ? wall->photoWidth : site.photoWidth, yard));
  if (wall) return lines.join(u'\n');
  if (site.scaleDistance.count > 0)
    lines << tr("Scaled by %1.").arg(factText(site.scaleDistance, yard));
  else
    lines << tr("Not scaled yet: its size is a guess.");
  if (site.checkDistance.count > 0) {
    const double drawn = base::distance(base::vec(site.checkFrom), base::vec(site.checkTo));
    const double off = drawn / base::metres(site.checkDistance).si - 1.0;
    lines << tr("Third distance: the picture says %1, the tape %2, %3 apart.")
                 .arg(factText(base::toLength({drawn}), yard), factText(site.checkDistance, yard),
                      factText(base::toRatio(std::abs(off)), yard));
  } else if (site.scaleDistance.count > 0) {
    lines << tr("Not checked by a third distance.");
  }
  return lines.join(u'\n');
}

void PhotoPanel::refresh() {
  const yard::Yard& yard = document_.shownYard();
  const auto* wall = yard::find<yard::Wall>(yard, wall_);
  if (wall_ && !wall) wall_ = {};
  const bool there = !key().empty();
  whose_->setText(wall ? tr("Picture of %1").arg(labelText(yard, wall_)) : tr("Picture of the yard"));
  facts_->setText(facts());
  choose_->setText(there ? tr("Choose another picture…") : tr("Choose a picture…"));
  for (QWidget* one : std::initializer_list<QWidget*>{scale_, check_, move_, fade_, fadeText_, remove_})
    one->setVisible(there);
  const auto fade = static_cast<int>(wall ? wall->photoFade : yard::site(yard).photoFade);
  fadeText_->setText(tr("Faded by %1 %").arg(fade));
  const QSignalBlocker quiet(fade_);
  fade_->setValue(fade);
}

void PhotoPanel::setFade(int percent) {
  edit::Editor editor(document_.yard());
  editor.update<yard::Wall>(wall_, [&](yard::Wall& wall) { wall.photoFade = percent; });
  if (!wall_)
    editor.update<yard::Site>(yard::siteId(document_.yard()),
                              [&](yard::Site& site) { site.photoFade = percent; });
  document_.commit(editor.finish(tr("Fade the picture").toStdString()), "photo_fade");
}

void PhotoPanel::removePicture() {
  edit::Editor editor(document_.yard());
  editor.update<yard::Wall>(wall_, [](yard::Wall& wall) {
    wall.photo.clear();
    wall.photoWidth = {};
    wall.photoAt = {};
  });
  if (!wall_)
    editor.update<yard::Site>(yard::siteId(document_.yard()), [](yard::Site& site) {
      site.photo.clear();
      site.photoAt = {};
      site.photoWidth = site.scaleDistance = site.checkDistance = {};
      site.scaleFrom = site.scaleTo = site.checkFrom = site.checkTo = {};
    });
  document_.commit(editor.finish(tr("Take the picture away").toStdString()));
}

}  // namespace yw::ui
