#include "ui/panels/along_panel.h"

#include <QAbstractTableModel>
#include <QApplication>
#include <QClipboard>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QKeyEvent>
#include <QPushButton>
#include <QSortFilterProxyModel>
#include <QStackedWidget>
#include <QTableView>
#include <algorithm>
#include <optional>
#include <utility>

#include "core/papers/digest.h"
#include "ui/panels/run_chart.h"
#include "ui/panels/run_series.h"

namespace yw::ui {

/// The figures of the run that is shown; empty without one.
class RunTable : public QAbstractTableModel {
 public:
  using QAbstractTableModel::QAbstractTableModel;
  void set(assess::AssessmentPtr a, base::Id run) {
    beginResetModel();
    columns_.emplace(std::move(a), run);
    endResetModel();
  }
  int rowCount(const QModelIndex& parent = {}) const override {
    return parent.isValid() || !columns_ ? 0 : columns_->rows();
  }
  int columnCount(const QModelIndex& parent = {}) const override {
    return parent.isValid() ? 0 : RunColumns::kCount;
  }
  QVariant headerData(int section, Qt::Orientation way, int role) const override {
    if (way != Qt::Horizontal || role != Qt::DisplayRole || !columns_) return {};
    return columns_->headings().value(section);
  }
  QVariant data(const QModelIndex& index, int role) const override {
    if (role == Qt::DisplayRole) return columns_->text(index.row(), index.column());
    if (role == Qt::UserRole) return columns_->value(index.row(), index.column());
    if (role == Qt::TextAlignmentRole && index.column() != kName)
      return QVariant(Qt::AlignRight | Qt::AlignVCenter);
    return {};
  }
  static constexpr int kName = 1;

 private:
  std::optional<RunColumns> columns_;
};

namespace {
/// Names naturally, figures by value.
class Sorted : public QSortFilterProxyModel {
 public:
  using QSortFilterProxyModel::QSortFilterProxyModel;

 protected:
  bool lessThan(const QModelIndex& a, const QModelIndex& b) const override {
    if (a.column() == RunTable::kName)
      return papers::naturalLess(a.data().toString().toStdString(), b.data().toString().toStdString());
    return a.data(Qt::UserRole).toDouble() < b.data(Qt::UserRole).toDouble();
  }
};
}  // namespace

AlongPanel::AlongPanel(Document& document, QWidget* parent)
    : QWidget(parent),
      document_(document),
      chart_(new RunChart(document, this)),
      model_(new RunTable(this)),
      sorted_(new Sorted(this)),
      table_(new QTableView(this)),
      pages_(new QStackedWidget(this)) {
  setObjectName(QStringLiteral("alongPanel"));
  sorted_->setSourceModel(model_);
  table_->setObjectName(QStringLiteral("runTable"));
  table_->setAccessibleName(tr("Along the run, as a table"));
  table_->setModel(sorted_);
  table_->setSortingEnabled(true);
  table_->sortByColumn(0, Qt::AscendingOrder);
  table_->setSelectionBehavior(QAbstractItemView::SelectRows);
  table_->setEditTriggers(QAbstractItemView::NoEditTriggers);
  table_->setTabKeyNavigation(false);
  table_->verticalHeader()->hide();
  table_->verticalHeader()->setDefaultSectionSize(24);
  table_->installEventFilter(this);
  pages_->addWidget(chart_);
  pages_->addWidget(table_);
  const auto button = [this](const char* name, const QString& text, auto act) {
    auto* made = new QPushButton(text, this);
    made->setObjectName(QLatin1String(name));
    connect(made, &QPushButton::clicked, this, act);
    return made;
  };
  asTable_ = button("alongTable", tr("Table"), [this] { showTable(asTable_->isChecked()); });
  asTable_->setCheckable(true);
  auto* copies = button("alongCopy", tr("Copy"), [this] { copy(); });
  copies->setToolTip(tr("Copies the figures as text with tabs, for a spreadsheet"));
  picture_ = button("alongPicture", tr("Copy picture"), [this] { chart_->copyPicture(); });
  auto* column = new QVBoxLayout;
  column->setContentsMargins(4, 4, 4, 4);
  for (QPushButton* one : {asTable_, copies, picture_}) column->addWidget(one);
  column->addStretch(1);
  auto* row = new QHBoxLayout(this);
  row->setContentsMargins(0, 0, 0, 0);
  row->setSpacing(0);
  row->addWidget(pages_, 1);
  row->addLayout(column);
  connect(&document_, &Document::assessed, this, [this] { refill(); });
  connect(chart_, &RunChart::runChanged, this, [this] { refill(); });
  connect(chart_, &RunChart::readingChanged, this, [this](std::int64_t place) { followReading(place); });
  connect(table_->selectionModel(), &QItemSelectionModel::currentRowChanged, this,
          [this](const QModelIndex& now) {
            if (following_ || !now.isValid() || pages_->currentWidget() != table_) return;
            following_ = true;
            chart_->select(sorted_->mapToSource(now).row() + 1);
            following_ = false;
          });
}

void AlongPanel::showTable(bool table) {
  asTable_->setChecked(table);
  picture_->setEnabled(!table);
  pages_->setCurrentWidget(table ? static_cast<QWidget*>(table_) : chart_);
  if (table) refill();
}

/// Only while it is seen: a run may have thousands of pixels.
void AlongPanel::refill() {
  if (pages_->currentWidget() != table_) return;
  const bool was = std::exchange(following_, true);
  model_->set(document_.assessment(), chart_->run());
  table_->resizeColumnsToContents();
  following_ = was;
  followReading(chart_->reading());
}

void AlongPanel::followReading(std::int64_t place) {
  if (following_ || pages_->currentWidget() != table_ || place < 1 || place > model_->rowCount()) return;
  following_ = true;
  const QModelIndex at = sorted_->mapFromSource(model_->index(static_cast<int>(place) - 1, 0));
  table_->selectionModel()->setCurrentIndex(at,
                                            QItemSelectionModel::ClearAndSelect | QItemSelectionModel::Rows);
  table_->scrollTo(at);
  following_ = false;
}

QString AlongPanel::selectedTsv() const {
  QModelIndexList rows = table_->selectionModel()->selectedRows();
  std::sort(rows.begin(), rows.end(), [](const auto& a, const auto& b) { return a.row() < b.row(); });
  QStringList heads;
  for (int c = 0; c < RunColumns::kCount; ++c)
    heads << sorted_->headerData(c, Qt::Horizontal, Qt::DisplayRole).toString();
  QStringList lines{heads.join(QLatin1Char('\t'))};
  const auto add = [&](int row) {
    QStringList cells;
    for (int c = 0; c < RunColumns::kCount; ++c) cells << sorted_->index(row, c).data().toString();
    lines << cells.join(QLatin1Char('\t'));
  };
  if (rows.size() > 1)
    for (const QModelIndex& row : rows) add(row.row());
  else
    for (int row = 0; row < sorted_->rowCount(); ++row) add(row);
  return lines.join(QLatin1Char('\n')) + QLatin1Char('\n');
}

void AlongPanel::copy() {
  if (pages_->currentWidget() == table_)
    QApplication::clipboard()->setText(selectedTsv());
  else
    chart_->copyText();
}

bool AlongPanel::eventFilter(QObject* watched, QEvent* event) {
  if (watched == table_ && event->type() == QEvent::KeyPress &&
      static_cast<QKeyEvent*>(event)->matches(QKeySequence::Copy)) {
    copy();
    return true;
  }
  return QWidget::eventFilter(watched, event);
}

}  // namespace yw::ui
