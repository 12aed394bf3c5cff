#pragma once
#include "ui/fields/rows_table.h"
#include "ui/panels/form_part.h"

class QHBoxLayout;
class QLabel;
class QPushButton;

namespace yw::ui {

/// A list inside a record as a small table with its title, an add and a remove button.
class RowsPart : public FormPart {
  Q_OBJECT
 public:
  struct Words {
    QString name;   ///< of the objects: rows_<name>, add_<name>, remove_<name>
    QString title;  ///< over the table
    QString add;    ///< on the button; empty: none
    QString remove;
  };
  RowsPart(Document& document, std::set<base::Id> ids, Words words, std::vector<RowsTable::Column> columns,
           QWidget* parent);
  void refresh() override;
  RowsTable* rows() const { return rows_; }

 protected:
  using Cells = std::vector<yard::FieldValue>;
  virtual std::vector<Cells> cells() const = 0;
  /// The reason when refused, else nothing.
  virtual QString change(int row, int column, const FieldEdit& edit) = 0;
  virtual void add() {}
  virtual void remove(int /*row*/) {}
  QString step() const;  ///< `Change ports of C1`
  QHBoxLayout* head() const { return head_; }

 private:
  Words words_;
  RowsTable* rows_;
  QHBoxLayout* head_;
  QPushButton* remove_ = nullptr;
};

/// A column of a table that is no field of one record.
yard::FieldInfo columnInfo(const char* name, const QString& label, yard::FieldType type,
                           std::int64_t least = INT64_MIN, std::int64_t most = INT64_MAX);
/// The field of that name among `fields`.
yard::FieldInfo fieldNamed(const std::vector<yard::FieldInfo>& fields, const std::string& name);

}  // namespace yw::ui
