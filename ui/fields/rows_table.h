#pragma once
#include <QWidget>
#include <functional>

#include "ui/fields/value_text.h"

class QLabel;
class QTableWidget;

namespace yw::ui {

class Document;

/// A small table of like things (ports, fuses, sections, windows): each column is a field, each cell is
/// edited in place by the same rules as the fields of a form. The reason of a refusal stands beneath.
class RowsTable : public QWidget {
  Q_OBJECT
 public:
  struct Column {
    yard::FieldInfo info;
    bool readOnly = false;
  };
  /// Gives the reason when refused, else nothing.
  using CellCommitter = std::function<QString(int row, int column, const FieldEdit& edit)>;

  RowsTable(Document& document, const QString& name, const QString& label, std::vector<Column> columns,
            QWidget* parent = nullptr);
  void setCommitter(CellCommitter committer) { committer_ = std::move(committer); }
  void display(std::vector<std::vector<yard::FieldValue>> rows, base::UnitSystem units);
  int currentRow() const;
  void setCurrentRow(int row);
  QTableWidget* table() const { return table_; }
  QString reason() const;
  void setReason(const QString& reason);

  // For the delegate.
  const Column& column(int i) const { return columns_[static_cast<std::size_t>(i)]; }
  const yard::FieldValue& value(int row, int column) const;
  /// Words and numbers of a picked cell; empty for typed ones.
  std::vector<std::pair<std::int64_t, QString>> options(int column) const;
  const TextStyle& style() const { return style_; }
  void commitCell(int row, int column, const FieldEdit& edit);
  void commitText(int row, int column, const QString& typed);

 Q_SIGNALS:
  void rowChanged(int row);

 private:
  QString cellText(int row, int column) const;
  void fitHeight();
  Document& document_;
  std::vector<Column> columns_;
  std::vector<std::vector<yard::FieldValue>> rows_;
  CellCommitter committer_;
  TextStyle style_;
  QTableWidget* table_;
  QLabel* reason_;
};

}  // namespace yw::ui
