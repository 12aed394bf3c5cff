#pragma once
#include <QDialog>

#include "core/papers/papers.h"
#include "ui/document/document.h"

class QListWidget;
class QLabel;
class QSpinBox;

namespace yw::ui {

/// Sheets to print: all or some, seen as they will be on paper, to a printer or a PDF.
class PrintDialog : public QDialog {
  Q_OBJECT
 public:
  PrintDialog(Document& document, QWidget* parent);
  std::vector<papers::SheetRequest> chosen() const;
  base::Result<void> writeTo(const QString& path);

 private:
  void preview();
  void toPrinter();
  void toPdf();
  void noteIssued(const std::vector<papers::SheetRequest>& requests);
  Document& document_;
  std::vector<papers::SheetRequest> all_;
  papers::Document pages_;
  QListWidget* list_;
  QLabel* picture_;
  QLabel* count_;
  QSpinBox* page_;
};

}  // namespace yw::ui
