#pragma once
#include <QDialog>

#include "ui/document/document.h"

class QLabel;
class QLineEdit;
class QListWidget;

namespace yw::ui {

/// Finds anything of the yard by part of its name: the list narrows while typing, Up and Down choose, Enter
/// takes.
class FindDialog : public QDialog {
  Q_OBJECT
 public:
  FindDialog(Document& document, QWidget* parent);
  /// What was taken; none: closed without.
  base::Id found() const { return found_; }

 protected:
  bool eventFilter(QObject* watched, QEvent* event) override;

 private:
  void narrow();
  void take();
  struct Entry {
    base::Id id;
    QString name, kind;
  };
  std::vector<Entry> all_;
  QLineEdit* typed_;
  QListWidget* list_;
  QLabel* count_;
  base::Id found_;
};

}  // namespace yw::ui
