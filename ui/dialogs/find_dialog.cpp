#include "ui/dialogs/find_dialog.h"

#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QVBoxLayout>
#include <algorithm>

#include "core/yard/labels.h"
#include "ui/fields/pick_fields.h"

namespace yw::ui {

FindDialog::FindDialog(Document& document, QWidget* parent) : QDialog(parent) {
  setObjectName(QStringLiteral("findDialog"));
  setWindowTitle(tr("Find"));
  resize(420, 360);
  auto* column = new QVBoxLayout(this);
  typed_ = new QLineEdit(this);
  typed_->setObjectName(QStringLiteral("findTyped"));
  typed_->setAccessibleName(tr("Name or part of it"));
  typed_->setPlaceholderText(tr("Name or part of it; Enter shows it"));
  list_ = new QListWidget(this);
  list_->setObjectName(QStringLiteral("findList"));
  list_->setAccessibleName(tr("What has that name"));
  count_ = new QLabel(this);
  count_->setObjectName(QStringLiteral("findCount"));
  count_->setProperty("ink", QStringLiteral("second"));
  column->addWidget(typed_);
  column->addWidget(list_, 1);
  column->addWidget(count_);
  for (const auto& [id, name] : namedRecords(document.yard(), {})) {
    const auto kind = yard::kindOf(*document.yard().records.at(id));
    if (!name.isEmpty() && kind != yard::RecordKind::Settings && kind != yard::RecordKind::Site)
      all_.push_back({id, name, QString::fromUtf8(yard::label(kind)).toLower()});
  }
  typed_->installEventFilter(this);
  connect(typed_, &QLineEdit::textChanged, this, [this] { narrow(); });
  connect(list_, &QListWidget::itemActivated, this, [this] { take(); });
  narrow();
}

/// Names that begin with what is typed come before those that only have it in them.
void FindDialog::narrow() {
  list_->clear();
  const QString typed = typed_->text().trimmed();
  int matches = 0;
  for (const bool begins : {true, false})
    for (std::size_t i = 0; i < all_.size(); ++i) {
      const qsizetype at = all_[i].name.indexOf(typed, 0, Qt::CaseInsensitive);
      if (at < 0 || (at == 0) != begins) continue;
      auto* item = new QListWidgetItem(tr("%1 · %2").arg(all_[i].name, all_[i].kind), list_);
      item->setData(Qt::UserRole, static_cast<int>(i));
      ++matches;
    }
  count_->setText(matches == 0 ? tr("Nothing here is called %1.").arg(typed)
                               : tr("%1 of %2").arg(matches).arg(all_.size()));
  list_->setCurrentRow(0);
}

void FindDialog::take() {
  const QListWidgetItem* item = list_->currentItem();
  if (!item) return;
  found_ = all_[static_cast<std::size_t>(item->data(Qt::UserRole).toInt())].id;
  accept();
}

bool FindDialog::eventFilter(QObject* watched, QEvent* event) {
  if (event->type() == QEvent::KeyPress) {
    auto* key = static_cast<QKeyEvent*>(event);
    if (key->key() == Qt::Key_Return || key->key() == Qt::Key_Enter) return take(), true;
    if (key->key() == Qt::Key_Up || key->key() == Qt::Key_Down || key->key() == Qt::Key_PageUp ||
        key->key() == Qt::Key_PageDown) {
      const int by = (key->key() == Qt::Key_Up || key->key() == Qt::Key_PageUp ? -1 : 1) *
                     (key->key() == Qt::Key_PageUp || key->key() == Qt::Key_PageDown ? 10 : 1);
      list_->setCurrentRow(std::clamp(list_->currentRow() + by, 0, std::max(0, list_->count() - 1)));
      return true;
    }
  }
  return QDialog::eventFilter(watched, event);
}

}  // namespace yw::ui
