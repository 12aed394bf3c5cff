#include "ui/dialogs/reason_dialog.h"

#include <QDialog>
#include <QDialogButtonBox>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>

namespace yw::ui {

std::optional<QString> askReason(QWidget* parent, const QString& what) {
  QDialog dialog(parent);
  dialog.setObjectName(QStringLiteral("reason_dialog"));
  dialog.setWindowTitle(QDialog::tr("Leave as is, because…"));
  dialog.setMinimumWidth(420);
  auto* column = new QVBoxLayout(&dialog);
  auto* sentence = new QLabel(what, &dialog);
  sentence->setWordWrap(true);
  column->addWidget(sentence);
  auto* label = new QLabel(QDialog::tr("Why is it right to leave it?"), &dialog);
  auto* edit = new QLineEdit(&dialog);
  edit->setObjectName(QStringLiteral("reason_edit"));
  edit->setAccessibleName(QDialog::tr("Reason"));
  label->setBuddy(edit);
  column->addWidget(label);
  column->addWidget(edit);
  auto* note = new QLabel(QDialog::tr("It comes back by itself if the figure gets worse."), &dialog);
  note->setProperty("ink", QStringLiteral("second"));
  column->addWidget(note);
  auto* buttons = new QDialogButtonBox(&dialog);
  auto* leave = buttons->addButton(QDialog::tr("Leave as is"), QDialogButtonBox::AcceptRole);
  leave->setObjectName(QStringLiteral("reason_leave"));
  leave->setEnabled(false);
  buttons->addButton(QDialog::tr("Keep it listed"), QDialogButtonBox::RejectRole);
  column->addWidget(buttons);
  QObject::connect(edit, &QLineEdit::textChanged, leave,
                   [leave](const QString& text) { leave->setEnabled(!text.trimmed().isEmpty()); });
  QObject::connect(buttons, &QDialogButtonBox::accepted, &dialog, &QDialog::accept);
  QObject::connect(buttons, &QDialogButtonBox::rejected, &dialog, &QDialog::reject);
  if (dialog.exec() != QDialog::Accepted || edit->text().trimmed().isEmpty()) return std::nullopt;
  return edit->text().trimmed();
}

}  // namespace yw::ui
