#include "ui/panels/tables/tables_panel.h"

#include <QAction>
#include <QApplication>
#include <QClipboard>
#include <QComboBox>
#include <QElapsedTimer>
#include <QFileDialog>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>
#include <QMenu>
#include <QMessageBox>
#include <QPushButton>
#include <QScrollBar>
#include <QVBoxLayout>

#include "core/file/yard_file.h"
#include "ui/fields/pick_fields.h"
#include "ui/panels/edits.h"

namespace yw::ui {

namespace {

/// Up to this time a table is made at once, so that it follows the pointer.
constexpr double kAtOnceMilliseconds = 20.0;
constexpr int kMostColumnWidth = 260;

}  // namespace

TablesPanel::TablesPanel(Document& document, QWidget* parent) : QWidget(parent), document_(document) {
  setObjectName(QStringLiteral("tablesPanel"));
  buildHead();
  model_ = new TableModel(this);
  grid_->setModel(model_);
  connect(grid_, &TableGrid::editAsked, this, &TablesPanel::edit);
  connect(grid_, &TableGrid::copyAsked, this, [this] { QApplication::clipboard()->setText(tsv()); });
  grid_->setContextMenuPolicy(Qt::CustomContextMenu);
  connect(grid_, &QWidget::customContextMenuRequested, this, &TablesPanel::showMenu);
  connect(grid_, &TableGrid::clearAsked, filter_, &QLineEdit::clear);
  connect(filter_, &QLineEdit::textChanged, this, [this](const QString& words) {
    endEdit(CellEditor::Next::Here);
    following_ = true;
    model_->setFilter(words);
    following_ = false;
    tellCount();
    fromDocument();
  });
  connect(names_, &QComboBox::currentIndexChanged, this, [this] {
    endEdit(CellEditor::Next::Here);
    lastMilliseconds_ = kAtOnceMilliseconds;  // how long this one takes is not known
    refresh();
  });
  connect(grid_->selectionModel(), &QItemSelectionModel::selectionChanged, this, [this] { toDocument(); });
  connect(&document_.selection(), &Selection::changed, this, [this] { fromDocument(); });
  connect(&document_, &Document::assessed, this, [this] { refresh(); });
  connect(&document_, &Document::yardChanged, this, [this] { showValues(); });
  connect(&document_, &Document::staleChanged, this, [this](bool stale) { model_->setStale(stale); });
  connect(model_, &QAbstractItemModel::layoutChanged, this, [this] { showValues(); });
  for (QScrollBar* bar : {grid_->verticalScrollBar(), grid_->horizontalScrollBar()})
    connect(bar, &QScrollBar::valueChanged, this, [this] { showValues(); });
}

void TablesPanel::buildHead() {
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(6, 4, 6, 4);
  auto* head = new QHBoxLayout;
  names_ = new QComboBox(this);
  names_->setObjectName(QStringLiteral("tableName"));
  names_->setAccessibleName(tr("Table"));
  names_->setMinimumHeight(26);
  // The ones most looked at first; then the rest as the sheets have them.
  const QStringList first{QStringLiteral("props"), QStringLiteral("runs"), QStringLiteral("lead_cut_list"),
                          QStringLiteral("supplies_fuses"), QStringLiteral("house_circuits")};
  const auto all = papers::tableNames();
  for (const bool leading : {true, false})
    for (const auto& [name, title] : all)
      if (first.contains(QString::fromStdString(name)) == leading)
        names_->addItem(QString::fromStdString(title), QString::fromStdString(name));
  names_->setCurrentIndex(names_->findData(first.front()));
  filter_ = new QLineEdit(this);
  filter_->setObjectName(QStringLiteral("tableFilter"));
  filter_->setAccessibleName(tr("Only rows with these words"));
  filter_->setPlaceholderText(tr("Only rows with…"));
  filter_->setMinimumHeight(26);
  filter_->setMaximumWidth(240);
  filter_->installEventFilter(this);
  count_ = new QLabel(this);
  count_->setObjectName(QStringLiteral("tableCount"));
  auto* copy = new QPushButton(tr("Copy"), this);
  copy->setObjectName(QStringLiteral("tableCopy"));
  copy->setToolTip(tr("The selected rows, or all that are shown, to paste into a spreadsheet (Ctrl+C)"));
  auto* keep = new QPushButton(tr("Save as CSV…"), this);
  keep->setObjectName(QStringLiteral("tableSave"));
  for (QWidget* one : std::initializer_list<QWidget*>{names_, filter_, count_}) head->addWidget(one);
  head->addStretch(1);
  head->addWidget(copy);
  head->addWidget(keep);
  grid_ = new TableGrid(this);
  grid_->setObjectName(QStringLiteral("tableGrid"));
  grid_->setSelectionBehavior(QAbstractItemView::SelectRows);
  grid_->setSelectionMode(QAbstractItemView::ExtendedSelection);
  grid_->setEditTriggers(QAbstractItemView::EditKeyPressed | QAbstractItemView::DoubleClicked);
  grid_->setTabKeyNavigation(false);
  grid_->setSortingEnabled(true);
  grid_->setWordWrap(false);
  grid_->setHorizontalScrollMode(QAbstractItemView::ScrollPerPixel);
  grid_->horizontalHeader()->setSortIndicator(-1, Qt::AscendingOrder);
  grid_->horizontalHeader()->setResizeContentsPrecision(50);
  grid_->horizontalHeader()->setHighlightSections(false);
  grid_->verticalHeader()->hide();
  grid_->verticalHeader()->setDefaultSectionSize(24);
  grid_->setMinimumHeight(60);
  column->addLayout(head);
  column->addWidget(grid_, 1);
  connect(copy, &QPushButton::clicked, this, [this] { QApplication::clipboard()->setText(tsv()); });
  connect(keep, &QPushButton::clicked, this, [this] { save(); });
}

QString TablesPanel::tableName() const { return names_->currentData().toString(); }

void TablesPanel::showTable(const QString& name) {
  const int index = names_->findData(name);
  if (index >= 0) names_->setCurrentIndex(index);
}

// ---- what is shown

void TablesPanel::showEvent(QShowEvent* event) {
  QWidget::showEvent(event);
  if (dirty_) refresh();
}

void TablesPanel::refresh() {
  dirty_ = true;
  if (!isVisible() || computing_ || !document_.assessment()) return;  // its end looks again
  if (lastMilliseconds_ < kAtOnceMilliseconds) return settle();
  struct Job {
    papers::Table table;
    double milliseconds = 0.0;
  };
  dirty_ = false;
  computing_ = true;
  auto job = std::make_shared<Job>();
  background_.run(
      [job, from = document_.assessment(), name = tableName().toStdString()] {
        QElapsedTimer clock;
        clock.start();
        job->table = papers::table(*from, name);
        job->milliseconds = static_cast<double>(clock.nsecsElapsed()) * 1e-6;
      },
      [this, job] {
        computing_ = false;
        lastMilliseconds_ = job->milliseconds;
        if (QString::fromStdString(job->table.name) == tableName()) take(std::move(job->table));
        if (dirty_) refresh();
      });
}

void TablesPanel::settle() {
  document_.settle();
  QElapsedTimer clock;
  clock.start();
  papers::Table table = papers::table(*document_.assessment(), tableName().toStdString());
  lastMilliseconds_ = static_cast<double>(clock.nsecsElapsed()) * 1e-6;
  dirty_ = false;
  take(std::move(table));
}

void TablesPanel::take(papers::Table table) {
  const bool other = sized_ != QString::fromStdString(table.name);
  const QModelIndex at = grid_->currentIndex();
  const base::Id current = other ? base::Id{} : model_->recordAt(at.row());
  following_ = true;
  if (other) grid_->horizontalHeader()->setSortIndicator(-1, Qt::AscendingOrder);
  model_->setTable(std::move(table));
  if (current && !grid_->currentIndex().isValid())
    for (int row = 0; row < model_->rowCount(); ++row)
      if (model_->recordAt(row) == current) {
        grid_->selectionModel()->setCurrentIndex(model_->index(row, at.column()),
                                                 QItemSelectionModel::NoUpdate);
        break;
      }
  following_ = false;
  if (other) {
    sized_ = tableName();
    grid_->setAccessibleName(tr("Rows of %1").arg(names_->currentText()));
    grid_->resizeColumnsToContents();
    for (int c = 0; c < model_->columnCount(); ++c)
      if (grid_->columnWidth(c) > kMostColumnWidth) grid_->setColumnWidth(c, kMostColumnWidth);
  }
  tellCount();
  fromDocument();
  showValues();
}

void TablesPanel::tellCount() {
  const auto all = static_cast<int>(model_->allRows());
  if (filter_->text().trimmed().isEmpty())
    count_->setText(all == 1 ? tr("1 row") : tr("%1 rows").arg(all));
  else
    count_->setText(tr("%1 of %2").arg(model_->rowCount()).arg(all));
}

// ---- one selection

void TablesPanel::toDocument() {
  if (following_) return;
  std::set<base::Id> ids;
  for (const int row : grid_->selectedRows())
    if (const base::Id id = model_->recordAt(row); id && document_.yard().records.contains(id))
      ids.insert(id);
  if (ids.empty() && !grid_->selectedRows().empty()) return;  // lines that stand for no record
  following_ = true;
  document_.selection().set(ids);
  if (!ids.empty()) document_.selection().reveal();
  following_ = false;
}

void TablesPanel::fromDocument() {
  if (following_) return;
  const auto& ids = document_.selection().ids();
  QItemSelection chosen;
  int first = -1;
  for (int row = 0; row < model_->rowCount(); ++row) {
    if (!ids.contains(model_->recordAt(row))) continue;
    if (first < 0) first = row;
    chosen.select(model_->index(row, 0), model_->index(row, model_->columnCount() - 1));
  }
  following_ = true;
  grid_->selectionModel()->select(chosen, QItemSelectionModel::ClearAndSelect);
  if (first >= 0 && !ids.contains(model_->recordAt(grid_->currentIndex().row()))) {
    const int column = std::max(0, grid_->currentIndex().column());
    grid_->selectionModel()->setCurrentIndex(model_->index(first, column), QItemSelectionModel::NoUpdate);
    grid_->scrollTo(model_->index(first, column));
  }
  following_ = false;
}

void TablesPanel::showMenu(const QPoint& at) {
  QModelIndex index = grid_->indexAt(at);
  if (!index.isValid()) index = grid_->currentIndex();
  QMenu menu(this);
  menu.setObjectName(QStringLiteral("tableMenu"));
  if (index.isValid()) {
    const auto cells = editedCells(document_, *model_, index.row(), index.column(), grid_->selectedRows());
    const auto count = cells ? cells->ids.size() + cells->leads.size() : 0;
    QAction* edit = menu.addAction(count > 1 ? tr("Change in these %1…\tF2").arg(count) : tr("Change…\tF2"));
    edit->setEnabled(count > 0);
    connect(edit, &QAction::triggered, this, [this, index] {
      grid_->selectionModel()->setCurrentIndex(index, QItemSelectionModel::NoUpdate);
      TablesPanel::edit(index);
    });
  }
  menu.addAction(tr("Copy\tCtrl+C"), this, [this] { QApplication::clipboard()->setText(tsv()); });
  menu.addAction(tr("Save as CSV…"), this, [this] { save(); });
  menu.exec(grid_->viewport()->mapToGlobal(at));
}

// ---- editing

namespace {

/// What a person knows a row by.
QString rowName(const TableModel& model, int row) {
  const auto& columns = model.table().columns;
  const auto lead = std::find(columns.begin(), columns.end(), "lead");
  const auto column = lead == columns.end() ? 0 : std::distance(columns.begin(), lead);
  return model.data(model.index(row, static_cast<int>(column))).toString();
}

}  // namespace

void TablesPanel::edit(const QModelIndex& index) {
  endEdit(CellEditor::Next::Here);
  if (!index.isValid()) return;
  const bool chosen = grid_->selectionModel()->isRowSelected(index.row(), {});
  const auto cells = editedCells(document_, *model_, index.row(), index.column(),
                                 chosen ? grid_->selectedRows() : std::vector<int>{});
  if (!cells) {
    const auto& heads = model_->table().heads;
    Q_EMIT document_.said(tr("%1 is computed: it follows from the rest.")
                              .arg(QString::fromStdString(heads[static_cast<std::size_t>(index.column())])));
    return;
  }
  ValueField* field = makeField(cells->cell.info, document_, grid_->viewport());
  if (!field) return;
  edited_ = *cells;
  editedAt_ = index;
  editedName_ = rowName(*model_, index.row());
  editedColumn_ = index.column();
  field->setCommitter([this](const FieldEdit& edit, const std::string& mergeKey) {
    return commitCells(document_, edited_, edit, mergeKey);
  });
  editor_ = new CellEditor(field, grid_->viewport());
  connect(editor_, &CellEditor::left, this, [this, made = editor_](CellEditor::Next next) {
    if (made == editor_) endEdit(next);
  });
  if (auto* reference = qobject_cast<ReferenceField*>(field))
    connect(reference, &ReferenceField::newAsked, this, [this](yard::RecordKind kind) {
      endEdit(CellEditor::Next::Here);
      document_.selection().set({addAndName(document_, edited_, kind)});
    });
  grid_->scrollTo(index);
  showValues();
  if (editor_) editor_->begin();
}

int TablesPanel::editedRow() const {
  if (editedAt_.isValid()) return editedAt_.row();
  for (int row = 0; row < model_->rowCount(); ++row)
    if (rowName(*model_, row) == editedName_) return row;
  return -1;
}

void TablesPanel::showValues() {
  if (!editor_) return;
  const auto values = valuesOf(document_.yard(), edited_);
  const int row = editedRow();
  if (values.empty() || row < 0) return endEdit(CellEditor::Next::Here);
  editor_->field().display(values, yard::settings(document_.yard()).units);
  editor_->place(grid_->visualRect(model_->index(row, editedColumn_)));
}

void TablesPanel::endEdit(CellEditor::Next next) {
  if (!editor_) return;
  CellEditor* ended = editor_;
  editor_ = nullptr;
  if (ended->isAncestorOf(QApplication::focusWidget())) grid_->setFocus();
  ended->hide();
  ended->deleteLater();
  const int row = editedRow();
  if (next == CellEditor::Next::Here || row < 0) return;
  const int step = next == CellEditor::Next::After ? 1 : -1;
  for (int c = editedColumn_ + step; c >= 0 && c < model_->columnCount(); c += step)
    if (editedCells(document_, *model_, row, c, {})) {
      const QModelIndex to = model_->index(row, c);
      grid_->selectionModel()->setCurrentIndex(to, QItemSelectionModel::NoUpdate);
      return edit(to);
    }
}

// ---- out of the window

QString TablesPanel::tsv() const {
  const std::vector<int> rows = grid_->selectedRows();
  return QString::fromStdString(papers::tsv(rows.empty() ? model_->shown() : model_->shown(rows)));
}

std::string TablesPanel::csv() const { return papers::csv(model_->shown()); }

void TablesPanel::save() {
  const QString path =
      QFileDialog::getSaveFileName(this, tr("Save the table"), tableName() + QStringLiteral(".csv"));
  if (path.isEmpty()) return;
  const auto written = file::writeWhole(path.toStdString(), csv());
  if (!written) QMessageBox::warning(this, tr("Not saved"), errorText(written.error(), document_.yard()));
}

bool TablesPanel::eventFilter(QObject* watched, QEvent* event) {
  if (watched == filter_ &&
      (event->type() == QEvent::KeyPress || event->type() == QEvent::ShortcutOverride)) {
    const int key = static_cast<QKeyEvent*>(event)->key();
    const bool escape = key == Qt::Key_Escape && !filter_->text().isEmpty();
    if (escape) {
      event->accept();
      if (event->type() == QEvent::KeyPress) filter_->clear();
      return true;
    }
    if (event->type() == QEvent::KeyPress && (key == Qt::Key_Down || key == Qt::Key_Return)) {
      grid_->setFocus();
      if (!grid_->currentIndex().isValid() && model_->rowCount() > 0)
        grid_->setCurrentIndex(model_->index(0, 0));
      return true;
    }
  }
  return QWidget::eventFilter(watched, event);
}

}  // namespace yw::ui
