#pragma once
#include <QDialog>

#include "core/propose/last_year.h"
#include "ui/document/document.h"

class QComboBox;
class QLabel;
class QPlainTextEdit;
class QPushButton;
class QTableWidget;

namespace yw::ui {

/// Last year's list in: pasted from a spreadsheet or opened as a file; what each column says is proposed and
/// can be changed; each row shows whether it is taken, or why not. One step.
class ListDialog : public QDialog {
  Q_OBJECT
 public:
  explicit ListDialog(Document& document, QWidget* parent = nullptr);
  void setText(const QString& text);
  /// What a column says, as the person picked it.
  void setColumn(int column, propose::ListColumn says);
  void accept() override;

 private:
  void openFile();
  void readText();
  void fill();
  void refresh();
  Document& document_;
  propose::List list_;
  std::vector<propose::ListColumn> columns_;
  propose::ListTaken taken_;
  QPlainTextEdit* text_;
  QComboBox* unit_;
  QTableWidget* table_;
  QLabel* said_;
  QPushButton* take_;
};

}  // namespace yw::ui
