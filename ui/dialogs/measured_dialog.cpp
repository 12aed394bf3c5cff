#include "ui/dialogs/measured_dialog.h"

#include <QComboBox>
#include <QDate>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

#include "ui/fields/typed_field.h"
#include "ui/panels/edits.h"
#include "ui/panels/rows_part.h"

namespace yw::ui {

MeasuredDialog::MeasuredDialog(Document& document, std::vector<MeasuringPlace> places, QWidget* parent)
    : QDialog(parent), places_(std::move(places)), units_(yard::settings(document.yard()).units) {
  setObjectName(QStringLiteral("measured_dialog"));
  setWindowTitle(tr("Write down a measured value"));
  setMinimumWidth(420);
  value_.brightness = yard::settings(document.yard()).brightnessLimit;
  value_.date = QDate::currentDate().toString(Qt::ISODate).toStdString();
  auto* column = new QVBoxLayout(this);
  auto* form = new QFormLayout;
  form->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
  column->addLayout(form);
  where_ = new QComboBox(this);
  where_->setObjectName(QStringLiteral("measured_where"));
  where_->setAccessibleName(tr("Where"));
  where_->setMinimumHeight(26);
  for (const MeasuringPlace& place : places_) where_->addItem(place.name);
  form->addRow(tr("Where"), where_);
  for (const char* name : {"volts", "amps", "brightness", "date", "note"}) addField(name);
  auto* note =
      new QLabel(tr("Put all pixels of the yard to white at that brightness while you measure."), this);
  note->setProperty("ink", QStringLiteral("second"));
  note->setWordWrap(true);
  column->addWidget(note);
  reason_ = new QLabel(this);
  reason_->setObjectName(QStringLiteral("measured_reason"));
  reason_->setProperty("ink", QStringLiteral("danger"));
  reason_->setWordWrap(true);
  reason_->hide();
  column->addWidget(reason_);
  auto* buttons = new QDialogButtonBox(this);
  buttons->addButton(tr("Write it down"), QDialogButtonBox::AcceptRole)
      ->setObjectName(QStringLiteral("measured_take"));
  buttons->addButton(QDialogButtonBox::Cancel);
  connect(buttons, &QDialogButtonBox::accepted, this, &MeasuredDialog::accept);
  connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
  column->addWidget(buttons);
  if (!fields_.empty()) fields_.front()->setFocus();
}

void MeasuredDialog::addField(const char* name) {
  const auto info = fieldNamed(yard::fieldsOf(yard::RecordKind::Measurement), name);
  auto* field = new TypedField(info, {}, this);
  const QString label = QString::fromStdString(info.label);
  field->setNames(QStringLiteral("measured_") + QLatin1String(name), label);
  field->setToolTip(QString::fromStdString(info.help));
  const auto show = [this, field, name = std::string(name)] {
    field->display({*yard::valueOf(yard::Record(value_), name)}, units_);
  };
  field->setCommitter([this, show, name = std::string(name)](const FieldEdit& edit, const std::string&) {
    const yard::Record now = value_;
    const auto changed = yard::withValue(now, name, edit(*yard::valueOf(now, name)));
    if (!changed) return QString::fromStdString(base::text(changed.error(), units_));
    value_ = std::get<yard::Measurement>(*changed);
    show();
    return QString();
  });
  show();
  static_cast<QFormLayout*>(layout()->itemAt(0)->layout())->addRow(label, field);
  fields_.push_back(field);
}

void MeasuredDialog::accept() {
  for (TypedField* field : fields_)
    if (!field->commitTyped()) return;
  value_.at = places_.at(static_cast<std::size_t>(std::max(0, where_->currentIndex()))).at;
  const bool nothing = value_.volts.count <= 0 && value_.amps.count <= 0;
  reason_->setText(nothing ? tr("Type the volts or the amps that the meter showed.") : QString());
  reason_->setVisible(nothing);
  if (!nothing) QDialog::accept();
}

}  // namespace yw::ui
