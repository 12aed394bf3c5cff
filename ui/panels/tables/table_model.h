#pragma once
#include <QAbstractTableModel>

#include "core/papers/papers.h"

namespace yw::ui {

/// One of the yard's tables on screen: its rows filtered and sorted. Sorting is stable and remembers earlier
/// columns: rows that are equal in the last one stay in the order of the one before. Numbers (and so lengths)
/// sort by value, names naturally (2 before 10), cells without a figure last.
class TableModel : public QAbstractTableModel {
  Q_OBJECT
 public:
  using QAbstractTableModel::QAbstractTableModel;
  /// Shows another state of the same table, or another table. Where the rows are the same records the
  /// selection and the current cell stay.
  void setTable(papers::Table table);
  const papers::Table& table() const { return table_; }
  /// Only rows with all the words in some cell.
  void setFilter(const QString& words);
  /// While newer figures are being computed, the numbers look it.
  void setStale(bool stale);

  int rowCount(const QModelIndex& parent = {}) const override;
  int columnCount(const QModelIndex& parent = {}) const override;
  QVariant data(const QModelIndex& index, int role = Qt::DisplayRole) const override;
  QVariant headerData(int section, Qt::Orientation way, int role = Qt::DisplayRole) const override;
  void sort(int column, Qt::SortOrder order = Qt::AscendingOrder) override;

  /// The record a shown row stands for; none for a line without one.
  base::Id recordAt(int row) const;
  std::size_t allRows() const { return table_.rows.size(); }
  /// The shown rows, or some of them, as a table of their own, in the order shown.
  papers::Table shown() const;
  papers::Table shown(const std::vector<int>& rows) const;

 private:
  struct SortKey {
    std::size_t column;
    bool down;
  };
  std::vector<std::size_t> arranged(const papers::Table& table) const;
  bool passes(const std::vector<std::string>& row) const;
  void takeOrder(std::vector<std::size_t> order);

  papers::Table table_;
  std::vector<std::size_t> order_;  ///< shown row: row of the table
  std::vector<SortKey> keys_;       ///< the last clicked first
  QStringList filter_;
  bool stale_ = false;
};

}  // namespace yw::ui
