#include "ui/dialogs/hand_dialog.h"

#include <QCheckBox>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLabel>

#include "ui/fields/typed_field.h"

namespace yw::ui {

HandDialog::HandDialog(HandRules rules, base::UnitSystem units, QWidget* parent)
    : QDialog(parent), rules_(rules), units_(units) {
  setObjectName(QStringLiteral("handDialog"));
  setWindowTitle(tr("Pointer and keys"));
  auto* form = new QFormLayout(this);
  const auto choice = [&](const char* name, const QString& label, const QStringList& words, int now) {
    auto* made = new QComboBox(this);
    made->setObjectName(QLatin1String(name));
    made->setAccessibleName(label);
    made->addItems(words);
    made->setCurrentIndex(now);
    form->addRow(label, made);
    return made;
  };
  wheel_ = choice("handWheel", tr("The wheel"), {tr("zooms at the pointer"), tr("pans; Ctrl+wheel zooms")},
                  rules_.wheelZooms ? 0 : 1);
  band_ = choice("handBand", tr("A rubber band takes"),
                 {tr("what it encloses to the right, touches to the left"), tr("what it encloses"),
                  tr("what it touches")},
                 static_cast<int>(rules_.band));
  snaps_ = new QCheckBox(tr("Catch ends, centers, equal gaps and the grid"), this);
  snaps_->setObjectName(QStringLiteral("handCatches"));
  snaps_->setChecked(rules_.snaps);
  form->addRow(QString(), snaps_);
  nudge_ = new LengthField(LengthField::Scale::Hand, this);
  nudge_->setNames(QStringLiteral("nudge"), tr("An arrow key moves by"));
  nudge_->setCommitter([this](const FieldEdit& edit, const std::string&) -> QString {
    const auto wanted = std::get<std::int64_t>(edit(std::int64_t{rules_.nudge.count}));
    if (wanted < 0 || wanted > base::metres(base::feet(100)).si * 1e9)
      return tr("From 0 to 100 feet; 0 goes by the yard's units: 1 inch or 2 cm.");
    rules_.nudge = {wanted};
    showNudge();
    Q_EMIT changed(rules_);
    return {};
  });
  form->addRow(tr("An arrow key moves by"), nudge_);
  auto* note =
      new QLabel(tr("0: 1 inch or 2 cm, by the yard's units. Shift moves ten times as far,\nAlt by one "
                    "point of the screen. Alt or S stops catching while dragging."),
                 this);
  note->setProperty("ink", QStringLiteral("second"));
  form->addRow(QString(), note);
  auto* buttons = new QDialogButtonBox(QDialogButtonBox::Close, this);
  form->addRow(buttons);
  connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
  connect(wheel_, &QComboBox::currentIndexChanged, this, [this] { tell(); });
  connect(band_, &QComboBox::currentIndexChanged, this, [this] { tell(); });
  connect(snaps_, &QCheckBox::toggled, this, [this] { tell(); });
  showNudge();
}

void HandDialog::showNudge() { nudge_->display({std::int64_t{rules_.nudge.count}}, units_); }

void HandDialog::tell() {
  rules_.wheelZooms = wheel_->currentIndex() == 0;
  rules_.band = static_cast<BandRule>(band_->currentIndex());
  rules_.snaps = snaps_->isChecked();
  Q_EMIT changed(rules_);
}

}  // namespace yw::ui
