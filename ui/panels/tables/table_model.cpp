#include "ui/panels/tables/table_model.h"

#include <QFont>
#include <algorithm>
#include <charconv>
#include <limits>
#include <numeric>

#include "core/papers/digest.h"
#include "ui/fields/look.h"

namespace yw::ui {

namespace {

/// More clicked columns than this are forgotten.
constexpr std::size_t kMostKeys = 4;

/// The number a cell of a number column shows; nothing where it shows none.
std::optional<double> numberOf(const std::string& cell) {
  double value = 0.0;
  const auto read = std::from_chars(cell.data(), cell.data() + cell.size(), value);
  if (read.ec != std::errc{}) return std::nullopt;
  return value;
}

/// Does row `x` come before row `y` by this column?
bool before(const std::string& x, const std::string& y, bool number, bool down) {
  if (x.empty() || y.empty()) return !x.empty() && y.empty();  // no figure: last, either way round
  if (number) {
    const auto m = numberOf(x), n = numberOf(y);
    if (m && n) return down ? *n < *m : *m < *n;
    if (m.has_value() != n.has_value()) return m.has_value();
  }
  return down ? papers::naturalLess(y, x) : papers::naturalLess(x, y);
}

}  // namespace

bool TableModel::passes(const std::vector<std::string>& row) const {
  return std::all_of(filter_.begin(), filter_.end(), [&row](const QString& word) {
    return std::any_of(row.begin(), row.end(), [&word](const std::string& cell) {
      return QString::fromStdString(cell).contains(word, Qt::CaseInsensitive);
    });
  });
}

std::vector<std::size_t> TableModel::arranged(const papers::Table& table) const {
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < table.rows.size(); ++i)
    if (passes(table.rows[i])) order.push_back(i);
  for (auto key = keys_.rbegin(); key != keys_.rend(); ++key)
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      return before(table.rows[a][key->column], table.rows[b][key->column], table.numbers[key->column],
                    key->down);
    });
  return order;
}

/// The same rows in another order: selection and current cell go along.
void TableModel::takeOrder(std::vector<std::size_t> order) {
  Q_EMIT layoutAboutToBeChanged();
  std::vector<int> place(table_.rows.size(), -1);
  for (std::size_t i = 0; i < order.size(); ++i) place[order[i]] = static_cast<int>(i);
  const QModelIndexList old = persistentIndexList();
  QModelIndexList now;
  for (const QModelIndex& index : old) {
    const int row = place[order_[static_cast<std::size_t>(index.row())]];
    now << (row < 0 ? QModelIndex() : createIndex(row, index.column()));
  }
  order_ = std::move(order);
  changePersistentIndexList(old, now);
  Q_EMIT layoutChanged();
}

void TableModel::setTable(papers::Table table) {
  const bool sameColumns = table.name == table_.name && table.keys == table_.keys;
  if (!sameColumns) keys_.clear();
  std::vector<std::size_t> order = arranged(table);
  if (!sameColumns || table.rowRecord != table_.rowRecord || order.size() != order_.size()) {
    beginResetModel();
    table_ = std::move(table);
    order_ = std::move(order);
    endResetModel();
    return;
  }
  table_ = std::move(table);
  takeOrder(std::move(order));
}

void TableModel::setFilter(const QString& words) {
  beginResetModel();
  filter_ = words.split(QLatin1Char(' '), Qt::SkipEmptyParts);
  order_ = arranged(table_);
  endResetModel();
}

void TableModel::setStale(bool stale) {
  if (stale == stale_) return;
  stale_ = stale;
  if (rowCount() > 0)
    Q_EMIT dataChanged(index(0, 0), index(rowCount() - 1, columnCount() - 1), {Qt::ForegroundRole});
}

void TableModel::sort(int column, Qt::SortOrder order) {
  if (column < 0 || column >= columnCount()) return;
  const auto wanted = static_cast<std::size_t>(column);
  std::erase_if(keys_, [wanted](const SortKey& key) { return key.column == wanted; });
  keys_.insert(keys_.begin(), {wanted, order == Qt::DescendingOrder});
  if (keys_.size() > kMostKeys) keys_.resize(kMostKeys);
  takeOrder(arranged(table_));
}

int TableModel::rowCount(const QModelIndex& parent) const {
  return parent.isValid() ? 0 : static_cast<int>(order_.size());
}
int TableModel::columnCount(const QModelIndex& parent) const {
  return parent.isValid() ? 0 : static_cast<int>(table_.keys.size());
}

QVariant TableModel::data(const QModelIndex& index, int role) const {
  if (!index.isValid() || index.row() >= rowCount() || index.column() >= columnCount()) return {};
  const auto column = static_cast<std::size_t>(index.column());
  const auto& row = table_.rows[order_[static_cast<std::size_t>(index.row())]];
  switch (role) {
    case Qt::DisplayRole:
    case Qt::ToolTipRole:
      return QString::fromStdString(row[column]);
    case Qt::AccessibleTextRole:
      return QStringLiteral("%1: %2").arg(QString::fromStdString(table_.heads[column]),
                                          QString::fromStdString(row[column]));
    case Qt::TextAlignmentRole:
      return QVariant::fromValue(int(table_.numbers[column] ? Qt::AlignRight : Qt::AlignLeft) |
                                 Qt::AlignVCenter);
    case Qt::ForegroundRole:
      return stale_ && table_.numbers[column] ? QVariant(currentTheme().color(papers::Role::SecondInk))
                                              : QVariant();
    default:
      return {};
  }
}

QVariant TableModel::headerData(int section, Qt::Orientation way, int role) const {
  if (way != Qt::Horizontal || section < 0 || section >= columnCount()) return {};
  const auto column = static_cast<std::size_t>(section);
  if (role == Qt::DisplayRole || role == Qt::ToolTipRole) return QString::fromStdString(table_.heads[column]);
  if (role == Qt::TextAlignmentRole)
    return QVariant::fromValue(int(table_.numbers[column] ? Qt::AlignRight : Qt::AlignLeft) |
                               Qt::AlignVCenter);
  return {};
}

base::Id TableModel::recordAt(int row) const {
  if (row < 0 || row >= rowCount()) return {};
  return table_.rowRecord[order_[static_cast<std::size_t>(row)]];
}

papers::Table TableModel::shown() const {
  std::vector<int> rows(order_.size());
  std::iota(rows.begin(), rows.end(), 0);
  return shown(rows);
}

papers::Table TableModel::shown(const std::vector<int>& rows) const {
  papers::Table part = table_;
  part.rows.clear();
  part.rowRecord.clear();
  for (const int row : rows) {
    const std::size_t at = order_[static_cast<std::size_t>(row)];
    part.rows.push_back(table_.rows[at]);
    part.rowRecord.push_back(table_.rowRecord[at]);
  }
  return part;
}

}  // namespace yw::ui
