#pragma once
#include <QTableView>

#include "ui/document/document.h"
#include "ui/jobs/background.h"
#include "ui/panels/tables/cell_editor.h"
#include "ui/panels/tables/edited_cells.h"
#include "ui/panels/tables/table_model.h"

class QComboBox;
class QLabel;
class QLineEdit;

namespace yw::ui {

/// The grid: editing, copying and leaving are asked of the panel.
class TableGrid : public QTableView {
  Q_OBJECT
 public:
  explicit TableGrid(QWidget* parent = nullptr);
  /// Rows that are selected, in the order shown.
  std::vector<int> selectedRows() const;

 Q_SIGNALS:
  void editAsked(const QModelIndex& index);
  void copyAsked();
  void clearAsked();

 protected:
  bool edit(const QModelIndex& index, EditTrigger trigger, QEvent* event) override;
  /// Left and Right, Home and End move within the row: the selected rows stay selected, so that one of their
  /// cells can be edited for all.
  QItemSelectionModel::SelectionFlags selectionCommand(const QModelIndex& index,
                                                       const QEvent* event) const override;
  void keyPressEvent(QKeyEvent* event) override;
  bool event(QEvent* event) override;
};

/// Tables: props, runs, leads, supplies, circuits and the rest, as the sheets and the command give them. Rows
/// and the selection on the Yard are the same selection; cells that stand for a field are edited in place.
class TablesPanel : public QWidget {
  Q_OBJECT
 public:
  explicit TablesPanel(Document& document, QWidget* parent = nullptr);
  void showTable(const QString& name);
  QString tableName() const;
  TableModel& model() { return *model_; }
  TableGrid& grid() { return *grid_; }
  /// Computes now what else follows in the background.
  void settle();
  /// The selected rows, or all shown, with units in the heads and plain numbers.
  QString tsv() const;
  /// All filtered rows in the order shown.
  std::string csv() const;
  void edit(const QModelIndex& index);

 protected:
  void showEvent(QShowEvent* event) override;
  bool eventFilter(QObject* watched, QEvent* event) override;

 private:
  void buildHead();
  void refresh();
  void take(papers::Table table);
  void tellCount();
  void toDocument();
  void showMenu(const QPoint& at);
  void fromDocument();
  void save();
  int editedRow() const;
  void showValues();
  void endEdit(CellEditor::Next next);

  Document& document_;
  Background background_;
  QComboBox* names_;
  QLineEdit* filter_;
  QLabel* count_;
  TableGrid* grid_;
  TableModel* model_;
  CellEditor* editor_ = nullptr;
  EditedCells edited_;
  QPersistentModelIndex editedAt_;
  QString editedName_;  ///< what a person knows the row by, to find it again
  int editedColumn_ = 0;
  bool dirty_ = true, computing_ = false, following_ = false;
  double lastMilliseconds_ = 0.0;
  QString sized_;  ///< table whose columns were fitted
};

}  // namespace yw::ui
