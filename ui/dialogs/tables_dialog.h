#pragma once
#include <QDialog>

#include "core/papers/papers.h"
#include "ui/document/document.h"

class QComboBox;
class QTableWidget;

namespace yw::ui {

/// The yard's tables: choose one, select rows (and so the things on the Yard), copy as tab-separated text.
class TablesDialog : public QDialog {
  Q_OBJECT
 public:
  TablesDialog(Document& document, const QString& first, QWidget* parent);
  QString selectedTsv() const;

 protected:
  void keyPressEvent(QKeyEvent* event) override;

 private:
  void fill(int index);
  void reload();
  Document& document_;
  std::vector<papers::Table> tables_;
  QComboBox* names_;
  QTableWidget* grid_;
};

}  // namespace yw::ui
