#pragma once
#include <QWidget>

#include "ui/document/document.h"

class QPushButton;
class QSortFilterProxyModel;
class QStackedWidget;
class QTableView;

namespace yw::ui {

class RunChart;
class RunTable;

/// Along the run, as a chart or as a table of the same figures. Both point at the same pixel; each can be
/// copied.
class AlongPanel : public QWidget {
  Q_OBJECT
 public:
  explicit AlongPanel(Document& document, QWidget* parent = nullptr);
  RunChart* chart() const { return chart_; }
  QTableView* table() const { return table_; }
  void showTable(bool table);
  /// The rows that are selected, or all if it is one or none, in the order shown.
  QString selectedTsv() const;
  /// What is shown to the clipboard, as text.
  void copy();
  QSize minimumSizeHint() const override { return {300, 150}; }

 protected:
  bool eventFilter(QObject* watched, QEvent* event) override;

 private:
  void refill();
  void followReading(std::int64_t place);
  Document& document_;
  RunChart* chart_;
  RunTable* model_;
  QSortFilterProxyModel* sorted_;
  QTableView* table_;
  QStackedWidget* pages_;
  QPushButton *asTable_, *picture_;
  bool following_ = false;
};

}  // namespace yw::ui
