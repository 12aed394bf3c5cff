#include "ui/dialogs/tables_dialog.h"

#include <QApplication>
#include <QClipboard>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QFile>
#include <QFileDialog>
#include <QHeaderView>
#include <QKeyEvent>
#include <QMessageBox>
#include <QPushButton>
#include <QTableWidget>
#include <QVBoxLayout>

#include "core/file/yard_file.h"
#include "ui/panels/edits.h"

namespace yw::ui {

TablesDialog::TablesDialog(Document& document, const QString& first, QWidget* parent)
    : QDialog(parent), document_(document) {
  setObjectName(QStringLiteral("tablesDialog"));
  setWindowTitle(tr("Tables"));
  resize(860, 560);
  auto* column = new QVBoxLayout(this);
  names_ = new QComboBox(this);
  names_->setObjectName(QStringLiteral("tableName"));
  names_->setAccessibleName(tr("Table"));
  grid_ = new QTableWidget(this);
  grid_->setObjectName(QStringLiteral("tableGrid"));
  grid_->setAccessibleName(tr("Rows of the table"));
  grid_->setEditTriggers(QAbstractItemView::NoEditTriggers);
  grid_->setSelectionBehavior(QAbstractItemView::SelectRows);
  grid_->setTabKeyNavigation(false);
  grid_->verticalHeader()->hide();
  auto* buttons = new QDialogButtonBox(QDialogButtonBox::Close, this);
  auto* copy = buttons->addButton(tr("Copy"), QDialogButtonBox::ActionRole);
  auto* save = buttons->addButton(tr("Save as CSV…"), QDialogButtonBox::ActionRole);
  column->addWidget(names_);
  column->addWidget(grid_, 1);
  column->addWidget(buttons);
  connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
  connect(copy, &QPushButton::clicked, this, [this] { QApplication::clipboard()->setText(selectedTsv()); });
  connect(save, &QPushButton::clicked, this, [this] {
    const auto& table = tables_[static_cast<std::size_t>(names_->currentIndex())];
    const QString path = QFileDialog::getSaveFileName(
        this, tr("Save the table"), QString::fromStdString(table.name) + QStringLiteral(".csv"));
    if (path.isEmpty()) return;
    const auto written = file::writeWhole(path.toStdString(), papers::csv(table));
    if (!written) QMessageBox::warning(this, tr("Not saved"), errorText(written.error(), document_.yard()));
  });
  connect(names_, &QComboBox::currentIndexChanged, this, [this](int index) { fill(index); });
  connect(grid_, &QTableWidget::itemSelectionChanged, this, [this] {
    std::set<base::Id> ids;
    const auto& table = tables_[static_cast<std::size_t>(names_->currentIndex())];
    for (const QModelIndex& index : grid_->selectionModel()->selectedRows())
      if (static_cast<std::size_t>(index.row()) < table.rowRecord.size() &&
          table.rowRecord[static_cast<std::size_t>(index.row())])
        ids.insert(table.rowRecord[static_cast<std::size_t>(index.row())]);
    if (ids.empty()) return;
    document_.selection().set(ids);
    document_.selection().reveal();
  });
  connect(&document, &Document::assessed, this, [this] { reload(); });
  reload();
  for (int i = 0; i < names_->count(); ++i)
    if (names_->itemData(i).toString() == first) names_->setCurrentIndex(i);
}

void TablesDialog::reload() {
  document_.settle();
  tables_ = papers::tables(*document_.assessment(), *document_.report());
  const int now = std::max(0, names_->currentIndex());
  const QSignalBlocker quiet(names_);
  names_->clear();
  for (const auto& table : tables_)
    names_->addItem(QString::fromStdString(table.title), QString::fromStdString(table.name));
  names_->setCurrentIndex(std::min(now, names_->count() - 1));
  fill(names_->currentIndex());
}

void TablesDialog::fill(int index) {
  if (index < 0 || index >= static_cast<int>(tables_.size())) return;
  const QSignalBlocker quiet(grid_);
  const auto& table = tables_[static_cast<std::size_t>(index)];
  grid_->clear();
  grid_->setRowCount(static_cast<int>(table.rows.size()));
  grid_->setColumnCount(static_cast<int>(table.heads.size()));
  QStringList heads;
  for (const auto& head : table.heads) heads << QString::fromStdString(head);
  grid_->setHorizontalHeaderLabels(heads);
  for (std::size_t r = 0; r < table.rows.size(); ++r)
    for (std::size_t c = 0; c < table.rows[r].size(); ++c) {
      auto* cell = new QTableWidgetItem(QString::fromStdString(table.rows[r][c]));
      if (c < table.numbers.size() && table.numbers[c])
        cell->setTextAlignment(Qt::AlignRight | Qt::AlignVCenter);
      grid_->setItem(static_cast<int>(r), static_cast<int>(c), cell);
    }
  grid_->resizeColumnsToContents();
}

QString TablesDialog::selectedTsv() const {
  papers::Table part = tables_[static_cast<std::size_t>(names_->currentIndex())];
  const auto chosen = grid_->selectionModel()->selectedRows();
  if (!chosen.isEmpty()) {
    const auto rows = part.rows;
    part.rows.clear();
    for (const QModelIndex& index : chosen) part.rows.push_back(rows[static_cast<std::size_t>(index.row())]);
  }
  return QString::fromStdString(papers::tsv(part));
}

void TablesDialog::keyPressEvent(QKeyEvent* event) {
  if (event->matches(QKeySequence::Copy)) {
    QApplication::clipboard()->setText(selectedTsv());
    return;
  }
  QDialog::keyPressEvent(event);
}

}  // namespace yw::ui
