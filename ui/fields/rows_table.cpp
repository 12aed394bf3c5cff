#include "ui/fields/rows_table.h"

#include <QComboBox>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QScrollBar>
#include <QStyledItemDelegate>
#include <QTableWidget>
#include <QVBoxLayout>

#include "core/yard/labels.h"
#include "ui/document/document.h"
#include "ui/fields/pick_fields.h"

namespace yw::ui {

namespace {

constexpr int kMostRowsSeen = 9;

std::int64_t countOf(const yard::FieldValue& value) {
  const auto* count = std::get_if<std::int64_t>(&value);
  return count ? *count : 0;
}

class CellDelegate : public QStyledItemDelegate {
 public:
  explicit CellDelegate(RowsTable* owner) : QStyledItemDelegate(owner), owner_(owner) {}

  QWidget* createEditor(QWidget* parent, const QStyleOptionViewItem&,
                        const QModelIndex& index) const override {
    const auto options = owner_->options(index.column());
    const QString name = QString::fromStdString(owner_->column(index.column()).info.label);
    if (options.empty()) {
      auto* edit = new QLineEdit(parent);
      edit->setAccessibleName(name);
      return edit;
    }
    auto* combo = new QComboBox(parent);
    combo->setAccessibleName(name);
    for (const auto& [count, text] : options) combo->addItem(text, QVariant::fromValue<qlonglong>(count));
    auto* self = const_cast<CellDelegate*>(this);
    connect(combo, &QComboBox::activated, self, [self, combo] {
      Q_EMIT self->commitData(combo);
      Q_EMIT self->closeEditor(combo);
    });
    return combo;
  }

  void setEditorData(QWidget* editor, const QModelIndex& index) const override {
    const auto& value = owner_->value(index.row(), index.column());
    if (auto* combo = qobject_cast<QComboBox*>(editor)) {
      combo->setCurrentIndex(combo->findData(QVariant::fromValue<qlonglong>(countOf(value))));
    } else if (auto* edit = qobject_cast<QLineEdit*>(editor)) {
      edit->setText(valueText(owner_->column(index.column()).info, value, owner_->style()));
      edit->setModified(false);
      edit->selectAll();
    }
  }

  void setModelData(QWidget* editor, QAbstractItemModel*, const QModelIndex& index) const override {
    if (auto* combo = qobject_cast<QComboBox*>(editor)) {
      const std::int64_t count = combo->currentData().toLongLong();
      if (count == countOf(owner_->value(index.row(), index.column()))) return;
      owner_->commitCell(index.row(), index.column(),
                         [count](const yard::FieldValue&) -> yard::FieldValue { return count; });
    } else if (auto* edit = qobject_cast<QLineEdit*>(editor)) {
      const auto& value = owner_->value(index.row(), index.column());
      if (edit->text() != valueText(owner_->column(index.column()).info, value, owner_->style()))
        owner_->commitText(index.row(), index.column(), edit->text());
    }
  }

 private:
  RowsTable* owner_;
};

}  // namespace

RowsTable::RowsTable(Document& document, const QString& name, const QString& label,
                     std::vector<Column> columns, QWidget* parent)
    : QWidget(parent), document_(document), columns_(std::move(columns)) {
  setObjectName(QStringLiteral("rows_") + name);
  auto* layout = new QVBoxLayout(this);
  layout->setContentsMargins(0, 0, 0, 0);
  layout->setSpacing(1);
  table_ = new QTableWidget(0, static_cast<int>(columns_.size()), this);
  table_->setObjectName(QStringLiteral("table_") + name);
  table_->setAccessibleName(label);
  table_->setItemDelegate(new CellDelegate(this));
  table_->setSelectionBehavior(QAbstractItemView::SelectRows);
  table_->setSelectionMode(QAbstractItemView::SingleSelection);
  table_->setEditTriggers(QAbstractItemView::DoubleClicked | QAbstractItemView::EditKeyPressed |
                          QAbstractItemView::AnyKeyPressed | QAbstractItemView::SelectedClicked);
  table_->setTabKeyNavigation(false);
  table_->setWordWrap(false);
  table_->verticalHeader()->hide();
  table_->verticalHeader()->setDefaultSectionSize(26);
  table_->horizontalHeader()->setSectionResizeMode(QHeaderView::Stretch);
  table_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  for (int i = 0; i < static_cast<int>(columns_.size()); ++i) {
    // Words take the room that figures leave.
    const auto type = columns_[static_cast<std::size_t>(i)].info.type;
    const bool labels = i == 0 && columns_.size() > 1 && columns_[0].readOnly &&
                        columns_[1].info.type == yard::FieldType::Text;
    const bool figures = labels || (type != yard::FieldType::Text && type != yard::FieldType::Reference &&
                                    type != yard::FieldType::Length);
    if (figures) table_->horizontalHeader()->setSectionResizeMode(i, QHeaderView::ResizeToContents);
  }
  QStringList heads;
  for (const Column& column : columns_) heads << QString::fromStdString(column.info.label);
  table_->setHorizontalHeaderLabels(heads);
  layout->addWidget(table_);
  reason_ = new QLabel(this);
  reason_->setWordWrap(true);
  reason_->setProperty("ink", QStringLiteral("danger"));
  reason_->hide();
  layout->addWidget(reason_);
  setFocusProxy(table_);
  connect(table_, &QTableWidget::currentCellChanged, this, [this](int row, int, int before, int) {
    if (row != before) Q_EMIT rowChanged(row);
  });
}

const yard::FieldValue& RowsTable::value(int row, int column) const {
  return rows_[static_cast<std::size_t>(row)][static_cast<std::size_t>(column)];
}

std::vector<std::pair<std::int64_t, QString>> RowsTable::options(int column) const {
  const yard::FieldInfo& info = columns_[static_cast<std::size_t>(column)].info;
  std::vector<std::pair<std::int64_t, QString>> found;
  if (info.type == yard::FieldType::Flag) return {{0, tr("no")}, {1, tr("yes")}};
  if (info.type == yard::FieldType::Choice) {
    for (std::size_t i = 0; i < info.choices.size(); ++i)
      found.emplace_back(static_cast<std::int64_t>(i), QString::fromUtf8(info.choices[i].label));
  }
  if (info.type == yard::FieldType::Reference) {
    found.emplace_back(0, tr("none"));
    for (const auto& [id, label] : namedRecords(document_.shownYard(), info.refersTo))
      found.emplace_back(id.value, label);
  }
  return found;
}

QString RowsTable::cellText(int row, int column) const {
  const yard::FieldInfo& info = columns_[static_cast<std::size_t>(column)].info;
  const yard::FieldValue& cell = value(row, column);
  if (info.type == yard::FieldType::Reference) {
    const base::Id id{countOf(cell)};
    return id ? QString::fromStdString(yard::labelOf(document_.shownYard(), id)) : tr("none");
  }
  if (info.type == yard::FieldType::Choice || info.type == yard::FieldType::Flag) {
    for (const auto& [count, text] : options(column))
      if (count == countOf(cell)) return text;
    return {};
  }
  const QString text = valueText(info, cell, style_);
  const QString unit = info.type == yard::FieldType::Length ? QString() : unitText(info, style_);
  return unit.isEmpty() ? text : text + u' ' + unit;
}

void RowsTable::display(std::vector<std::vector<yard::FieldValue>> rows, base::UnitSystem units) {
  style_.units = units;
  style_.currency = yard::settings(document_.shownYard()).currency;
  rows_ = std::move(rows);
  const QSignalBlocker quiet(table_);
  if (table_->rowCount() != static_cast<int>(rows_.size()))
    table_->setRowCount(static_cast<int>(rows_.size()));
  for (int row = 0; row < table_->rowCount(); ++row) {
    for (int column = 0; column < table_->columnCount(); ++column) {
      QTableWidgetItem* item = table_->item(row, column);
      if (!item) {
        item = new QTableWidgetItem;
        const Column& made = columns_[static_cast<std::size_t>(column)];
        item->setFlags(made.readOnly ? Qt::ItemIsEnabled | Qt::ItemIsSelectable
                                     : Qt::ItemIsEnabled | Qt::ItemIsSelectable | Qt::ItemIsEditable);
        if (made.info.type != yard::FieldType::Text && options(column).empty())
          item->setTextAlignment(Qt::AlignRight | Qt::AlignVCenter);
        table_->setItem(row, column, item);
      }
      const QString text = cellText(row, column);
      item->setText(text);
      item->setToolTip(text);
    }
  }
  fitHeight();
}

void RowsTable::fitHeight() {
  const int rows = std::clamp(table_->rowCount(), 1, kMostRowsSeen);
  table_->setFixedHeight(table_->horizontalHeader()->sizeHint().height() + 26 * rows +
                         2 * table_->frameWidth());
}

int RowsTable::currentRow() const { return table_->currentRow(); }
void RowsTable::setCurrentRow(int row) {
  if (row >= 0 && row < table_->rowCount()) table_->setCurrentCell(row, 0);
}

QString RowsTable::reason() const { return reason_->text(); }

void RowsTable::setReason(const QString& reason) {
  reason_->setText(reason);
  reason_->setVisible(!reason.isEmpty());
}

void RowsTable::commitCell(int row, int column, const FieldEdit& edit) {
  setReason(committer_ ? committer_(row, column, edit) : QString());
}

void RowsTable::commitText(int row, int column, const QString& typed) {
  const auto edit = readTyped(columns_[static_cast<std::size_t>(column)].info, typed, style_);
  if (!edit) {
    setReason(QString::fromStdString(base::text(edit.error(), style_.units)));
    return;
  }
  commitCell(row, column, *edit);
}

}  // namespace yw::ui
