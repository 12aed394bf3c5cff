#pragma once
#include <QDialog>

#include "ui/document/document.h"

class QLabel;
class QListWidget;
class QPushButton;

namespace yw::ui {

/// The person's own props: each with its drawing, pixels and pixel; put into this yard, or taken off the
/// list.
class MyPropsDialog : public QDialog {
  Q_OBJECT
 public:
  /// What is put stands at `middle`.
  MyPropsDialog(Document& document, base::Point middle, QWidget* parent = nullptr);

 private:
  void refill();
  void put();
  void forget();
  base::Id current() const;
  Document& document_;
  base::Point middle_;
  yard::Yard library_;
  QListWidget* list_;
  QLabel* said_;
  QPushButton *put_, *forget_;
};

/// Keeps a prop as one of the person's own; says in the status line what was done, or why not.
void keepAsMine(Document& document, base::Id prop);

}  // namespace yw::ui
