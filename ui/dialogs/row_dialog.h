#pragma once
#include <QDialog>
#include <map>

#include "core/shapes/rows.h"
#include "core/yard/field_value.h"
#include "ui/document/document.h"

class QCheckBox;
class QComboBox;
class QFormLayout;
class QLabel;

namespace yw::ui {

class TypedField;

/// Lays a prop, or its row, out in a line, an arc, a grid or along what is drawn on the ground, to exact
/// figures; the Yard shows it while they are typed. One step.
class RowDialog : public QDialog {
  Q_OBJECT
 public:
  RowDialog(Document& document, base::Id prop, QWidget* parent = nullptr);
  ~RowDialog() override;
  void accept() override;

 protected:
  void keyPressEvent(QKeyEvent* event) override;

 private:
  enum Layout { Line, Arc, Grid, Path, Mirror };
  struct Asked {
    std::string name;
    QString label;
    yard::FieldType type;
    std::int64_t value, least, most;
    std::vector<Layout> in;
    TypedField* field = nullptr;
  };
  void addFields(QFormLayout* form);
  void refresh();
  std::int64_t value(const std::string& name) const;
  std::vector<base::Point> outline(const QComboBox* combo) const;
  std::vector<shapes::Spot> spots() const;
  edit::Change change() const;
  Document& document_;
  base::Id prop_;
  yard::Prop like_;
  std::vector<Asked> asked_;
  QComboBox *layout_, *path_, *walk_;
  QCheckBox* facingIn_;
  QLabel* reason_;
  QFormLayout* form_;
};

}  // namespace yw::ui
