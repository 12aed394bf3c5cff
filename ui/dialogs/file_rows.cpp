#include "ui/dialogs/file_rows.h"

#include <QComboBox>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QLineEdit>
#include <QObject>
#include <QPushButton>

namespace yw::ui {

base::LengthUnit FileRows::unitNow() const {
  return static_cast<base::LengthUnit>(unit->currentData().toInt());
}

FileRows addFileRows(QWidget* dialog, QFormLayout& form, const QString& name, base::LengthUnit usual) {
  const QString file = QObject::tr("File"), bare = QObject::tr("Numbers without a unit are");
  FileRows rows{new QLineEdit(dialog), new QPushButton(QObject::tr("Choose…"), dialog),
                new QComboBox(dialog)};
  rows.path->setObjectName(name + QStringLiteral("_path"));
  rows.path->setAccessibleName(file);
  rows.path->setMinimumHeight(26);
  rows.browse->setAutoDefault(false);
  auto* row = new QHBoxLayout;
  row->addWidget(rows.path, 1);
  row->addWidget(rows.browse);
  form.addRow(file, row);
  rows.unit->setObjectName(name + QStringLiteral("_unit"));
  rows.unit->setAccessibleName(bare);
  rows.unit->setMinimumHeight(26);
  const std::pair<QString, base::LengthUnit> units[] = {
      {QObject::tr("inches"), base::LengthUnit::Inches},
      {QObject::tr("feet"), base::LengthUnit::Feet},
      {QObject::tr("millimeters"), base::LengthUnit::Millimetres},
      {QObject::tr("centimeters"), base::LengthUnit::Centimetres},
      {QObject::tr("meters"), base::LengthUnit::Metres}};
  for (const auto& [text, unit] : units) rows.unit->addItem(text, static_cast<int>(unit));
  rows.unit->setCurrentIndex(rows.unit->findData(static_cast<int>(usual)));
  form.addRow(bare, rows.unit);
  return rows;
}

}  // namespace yw::ui
