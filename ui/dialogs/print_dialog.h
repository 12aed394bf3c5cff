#pragma once
#include <QDialog>
#include <QTimer>
#include <memory>

#include "core/papers/papers.h"
#include "ui/document/document.h"

class QListWidget;
class QLabel;
class QSpinBox;

namespace yw::ui {

/// Sheets to print: all or some, seen as they will be on paper, to a printer or a PDF. They are laid out on
/// another thread, from the yard as it was when the dialog opened.
class PrintDialog : public QDialog {
  Q_OBJECT
 public:
  PrintDialog(Document& document, QWidget* parent);
  ~PrintDialog() override;
  std::vector<papers::SheetRequest> chosen() const;
  /// Writes the chosen sheets and notes them as issued; false if the person thought better of it meanwhile.
  base::Result<bool> writeTo(const QString& path);
  /// Waits until the chosen sheets are laid out, with a sign after half a second; false: cancelled.
  bool laidOut();
  const papers::Document& pages() const { return *pages_; }

 private:
  struct Job;
  void layOut();
  void showFirst(const std::shared_ptr<Job>& job, const std::shared_ptr<const papers::Document>& first);
  void takeJob(const std::shared_ptr<Job>& job);
  void showPage();
  void showPlace();
  void turnToSheet(int row);
  void toPrinter();
  void toPdf();
  void noteIssued();
  Document& document_;
  assess::AssessmentPtr assessment_;
  std::vector<papers::SheetRequest> all_, laid_;
  std::shared_ptr<const papers::Document> pages_;
  std::shared_ptr<Job> job_;  ///< the one that is under way
  QTimer telling_;
  QListWidget* list_;
  QLabel* picture_;
  QLabel* count_;
  QSpinBox* page_;
};

}  // namespace yw::ui
