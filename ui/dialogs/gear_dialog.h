#pragma once
#include <QDialog>

#include "ui/document/document.h"

class QComboBox;
class QListWidget;

namespace yw::ui {

class RecordForm;

/// All records of one kind in a list with the form of the chosen one: house circuits, outlets, supplies,
/// controllers, pixel products and the rest. Every change is a step of the yard at once; there is no OK.
class GearDialog : public QDialog {
  Q_OBJECT
 public:
  GearDialog(Document& document, yard::RecordKind kind, QWidget* parent);
  /// Adds a record of the shown kind and opens it.
  void addOne();
  void setKind(yard::RecordKind kind);
  RecordForm* form() const { return form_; }

 private:
  void refill();
  void choose();
  Document& document_;
  yard::RecordKind kind_;
  QComboBox* kinds_;
  QListWidget* list_;
  RecordForm* form_;
};

/// The one form of a record that has no list: the yard's settings, the site.
void editRecordDialog(Document& document, base::Id id, const QString& title, QWidget* parent);

}  // namespace yw::ui
