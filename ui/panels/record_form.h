#pragma once
#include <QWidget>
#include <set>

#include "ui/document/document.h"
#include "ui/fields/value_field.h"

class QFormLayout;

namespace yw::ui {

class FormPart;
class ValueField;

/// All that a person may say of one record, or of several of one kind together: the fields the record
/// declares, and the parts its kind has besides. What differs reads `several`; typing sets all of them in one
/// step.
class RecordForm : public QWidget {
  Q_OBJECT
 public:
  explicit RecordForm(Document& document, QWidget* parent = nullptr);
  /// Records of one kind; of different kinds nothing is shown.
  void setRecords(std::set<base::Id> ids);
  const std::set<base::Id>& records() const { return ids_; }
  ValueField* field(const std::string& name) const;

 Q_SIGNALS:
  void openAsked(yw::base::Id id);

 private:
  struct Row {
    yard::FieldInfo info;
    ValueField* field;
  };
  void rebuild();
  void refresh();
  void addField(QFormLayout* form, const yard::FieldInfo& info);
  void addNew(const yard::FieldInfo& info, yard::RecordKind kind);
  QString commit(const yard::FieldInfo& info, const FieldEdit& edit, const std::string& mergeKey);
  std::string structure() const;

  Document& document_;
  std::set<base::Id> ids_;
  std::string builtFor_;
  QWidget* body_ = nullptr;
  std::vector<Row> rows_;
  std::vector<FormPart*> parts_;
};

}  // namespace yw::ui
